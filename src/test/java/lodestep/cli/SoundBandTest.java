package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.data.Offset.offset;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.dial.Task;
import lodestep.dial.Tolerance;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.LiveReading;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.LedgerEvent;
import lodestep.port.Sound;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/** Goal: what is heard says how a reading lies to its band. */
class SoundBandTest {

  private static final Task SOUTH =
      new Task.ToLevel(FluxDensity.ofGauss(-430), FluxDensity.ofGauss(15));

  private static double nearness(Sound sound) {
    assertThat(sound).isInstanceOf(Sound.Rising.class);
    return ((Sound.Rising) sound).nearness();
  }

  private static LedgerEvent.ReadingTaken settled(double gauss) {
    return new LedgerEvent.ReadingTaken(
        1, "", Math.round(gauss * 100), 0, 1, 2_000, "rod nest", 0, 1, 1);
  }

  private static Optional<FluxDensity> live(double gauss) {
    return Optional.of(FluxDensity.ofGauss(gauss));
  }

  @Test
  void risesFromTheFurthestReadingToTheNearEdgeAndIsAnotherInsideAndPast() {
    SoundBand band = SoundBand.of(FluxDensity.ofGauss(-430), FluxDensity.ofGauss(15));
    List<Double> heard = new ArrayList<>();
    for (double gauss = 700; gauss > 445; gauss -= 5) {
      heard.add(nearness(band.sound(gauss * 1e-4, 700e-4)));
    }

    assertThat(heard).isSorted().doesNotHaveDuplicates().startsWith(0.0);
    assertThat(nearness(band.sound(572.5e-4, 700e-4))).isCloseTo(0.5, offset(1e-9));
    assertThat(band.sound(444.9e-4, 700e-4)).isEqualTo(new Sound.Inside());
    assertThat(band.sound(415.1e-4, 700e-4)).isEqualTo(new Sound.Inside());
    assertThat(band.sound(414.9e-4, 700e-4)).isEqualTo(new Sound.Past());
    assertThat(nearness(band.sound(900e-4, 700e-4))).as("further than ever before").isZero();
  }

  @Test
  void knowsTheBandOfEachTask() {
    FluxDensity found = FluxDensity.ofGauss(-600);
    Task down =
        new Task.DownBy(
            new lodestep.dial.Drop.By(FluxDensity.ofGauss(100)),
            new Tolerance.Fixed(FluxDensity.ofGauss(10)));

    assertThat(SoundBand.of(SOUTH, found).highTesla()).isCloseTo(445e-4, offset(1e-9));
    assertThat(SoundBand.of(down, found).highTesla()).isCloseTo(510e-4, offset(1e-9));
    SoundBand none = SoundBand.of(new Task.Demagnetise(FluxDensity.ofGauss(5)), found);
    assertThat(none.sound(-4e-4, 600e-4)).isEqualTo(new Sound.Inside());
    assertThat(none.sound(-6e-4, 600e-4)).as("turned over").isEqualTo(new Sound.Past());
  }

  @Test
  void risesInEachApproachToTheWordStopAndSoundsInsideAtRest() {
    HandSound heard = new HandSound(SOUTH);
    heard.read(settled(-3));
    assertThat(heard.of(HandCue.of(HandAsk.CHARGE_SOUTH), live(-3))).isEqualTo(new Sound.Silent());
    assertThat(heard.of(HandCue.of(HandAsk.WAIT), live(-3)))
        .as("uncharged is not past the band")
        .isEqualTo(new Sound.Silent());
    heard.read(settled(-700));
    assertThat(nearness(heard.of(new HandCue(HandAsk.CLOSER, 0), live(-700)))).isZero();
    assertThat(nearness(heard.of(new HandCue(HandAsk.CLOSER, 1), live(-300)))).isEqualTo(1);
    assertThat(heard.of(HandCue.of(HandAsk.AWAY), live(-300))).isEqualTo(new Sound.Past());

    heard.read(settled(-572.5));
    assertThat(nearness(heard.of(new HandCue(HandAsk.CLOSER, 0), live(-572))))
        .as("half way: a quarter of the rise, of which an approach keeps half")
        .isCloseTo(0.25, offset(1e-6));
    assertThat(heard.of(HandCue.of(HandAsk.WAIT), live(-500))).isEqualTo(new Sound.Silent());
    assertThat(heard.of(HandCue.of(HandAsk.WAIT), live(-433))).isEqualTo(new Sound.Inside());
    assertThat(heard.of(HandCue.of(HandAsk.WAIT), live(-400))).isEqualTo(new Sound.Past());
    assertThat(heard.of(HandCue.of(HandAsk.LOOK), live(-433))).isEqualTo(new Sound.Silent());
  }

  @Test
  void hearsAReadingByItsSizeAndNothingOfAnEmptySeatOrASilentLine() {
    GaugeCalibration gauge = new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);
    LiveReading charged = LiveReading.start(gauge, 0).with(-35_000, Temperature.ofDegC(20), 0);
    LiveReading lower = charged.with(-28_625, Temperature.ofDegC(20), 1_000_000_000L);
    LiveReading empty = lower.with(20, Temperature.ofDegC(20), 2_000_000_000L);
    Screen screen = new Screen(new PrintWriter(new StringWriter()), false);
    LiveTone tone =
        new LiveTone(
            new LiveReport(screen, screen, live -> ""),
            Sounding.none(screen),
            SoundBand.of(FluxDensity.ofGauss(430), FluxDensity.ofGauss(15)));

    assertThat(nearness(tone.sound(now(charged, Optional.empty())))).isZero();
    assertThat(nearness(tone.sound(now(lower, Optional.empty())))).isCloseTo(0.5, offset(1e-3));
    assertThat(tone.sound(now(empty, Optional.empty()))).isEqualTo(new Sound.Silent());
    assertThat(tone.sound(now(charged, Optional.of("no line")))).isEqualTo(new Sound.Silent());
  }

  private static HeadWork.Live now(LiveReading reading, Optional<String> silence) {
    return new HeadWork.Live(reading, 1, Optional.of(0.01), silence);
  }
}
