package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.Optional;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.LiveReading;
import lodestep.port.Sound;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

class LiveWordsTest {

  private static final Temperature ROOM = Temperature.ofDegC(20);
  private static final LiveReading START =
      LiveReading.start(new GaugeCalibration(500_000, 0, ROOM, 0.001), 0);
  private static final FluxDensity RANGE = new FluxDensity(0.26);

  private static HeadWork.Live live(LiveReading reading, double seconds) {
    return new HeadWork.Live(reading, seconds, Optional.of(0.01), Optional.empty());
  }

  private static HeadWork.Live counts(int counts, double seconds) {
    return live(START.with(counts, ROOM, 0), seconds);
  }

  private static HeadWork.Live silent(double seconds) {
    return new HeadWork.Live(START, seconds, Optional.empty(), Optional.of("no line"));
  }

  @Test
  void namesThePoleAndTheLevel() {
    LiveWords gauss = LiveWords.in("gauss", RANGE);

    assertThat(gauss.line(counts(-20_000, 1))).startsWith("South face: -400.0 G. Least -400.0 G");
    assertThat(gauss.line(counts(20_000, 1))).startsWith("North face: 400.0 G.");
    assertThat(gauss.line(counts(50, 1))).startsWith("No pole: 1.0 G.");
    assertThat(gauss.line(live(START, 1))).isEqualTo("Nothing read yet.");
    assertThat(LiveWords.in("mT", RANGE).line(counts(20_000, 1))).contains("40.00 mT. Least");
  }

  @Test
  void saysWhatItCannotRead() {
    LiveWords gauss = LiveWords.in("gauss", RANGE);

    assertThat(gauss.line(counts(130_000, 1))).contains("Beyond the gauge, more than 2600.0 G");
    assertThat(gauss.line(silent(1))).isEqualTo("No line.");
    assertThatThrownBy(() -> LiveWords.in("amps", RANGE)).hasMessageContaining("'amps' is no unit");
  }

  @Test
  void fitsALineOfATerminal() {
    assertThat(LiveWords.in("gauss", RANGE).line(counts(-120_000, 1))).hasSizeLessThan(90);
  }

  private static String told(boolean terminal, HeadWork.Live... all) {
    StringWriter out = new StringWriter();
    Screen screen = new Screen(new PrintWriter(out), terminal);
    LiveReport report = new LiveReport(screen, screen, LiveWords.in("gauss", RANGE)::line);
    for (HeadWork.Live live : all) {
      report.live(live);
    }
    report.end();
    return out.toString();
  }

  @Test
  void tellsALineASecondWhereThereIsNoTerminal() {
    String told = told(false, counts(1, 0.1), counts(1, 0.9), counts(1, 1.0), counts(1, 2.0));

    assertThat(told).hasLineCount(2).doesNotContain("\r", "\u001b");
  }

  @Test
  void tellsSilenceAndItsEndAtOnce() {
    assertThat(told(false, counts(1, 1.0), silent(1.2), silent(1.3), counts(1, 1.4)))
        .hasLineCount(3);
  }

  @Test
  void keepsOneLineUpToDateOnATerminal() {
    String told = told(true, counts(500, 0.1), counts(20_000, 0.2));

    assertThat(told).startsWith("\r\u001b[K").contains("\r\u001b[KNorth face: 400.0 G.");
    assertThat(told.lines().count())
        .as("carriage returns end no line but begin it anew")
        .isEqualTo(3);
    assertThat(told).endsWith(System.lineSeparator());
  }

  private static long strokes(Sound sound) {
    Beat beat = new Beat();
    long strokes = 0;
    for (int tenth = 0; tenth < 100; tenth++) {
      strokes += beat.due(tenth * 0.1, sound) ? 1 : 0;
    }
    return strokes;
  }

  @Test
  void quickensTheBellAsTheMagnetComesNearer() {
    long far = strokes(new Sound.Rising(0));
    long near = strokes(new Sound.Rising(0.6));
    long stop = strokes(new Sound.Past());

    assertThat(far).isBetween(7L, 10L);
    assertThat(near).isGreaterThan(far);
    assertThat(stop).isGreaterThan(3 * near / 2);
    assertThat(strokes(new Sound.Silent())).isZero();
    assertThat(strokes(new Sound.Inside())).isZero();
  }
}
