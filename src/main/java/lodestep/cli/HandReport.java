package lodestep.cli;

import java.util.Locale;
import java.util.Optional;
import lodestep.port.HandAsk;
import lodestep.port.LedgerEvent;
import lodestep.port.Sound;
import lodestep.quantity.FluxDensity;

/**
 * Tells work by hand: each new sentence and each settled reading on a line that stays, and on a
 * terminal the live reading below; what is to be heard goes with it. One thread.
 */
final class HandReport implements HeadWork.HandWatcher {

  private final Screen screen;
  private final String band;
  private final HandSound heard;
  private final Sounding sounding;
  private String sentence = "";
  private boolean silent;

  /**
   * @param band target and tolerance in words
   */
  HandReport(Screen screen, String band, HandSound heard, Sounding sounding) {
    this.screen = screen;
    this.band = band;
    this.heard = heard;
    this.sounding = sounding;
  }

  @Override
  public void event(LedgerEvent event, double seconds) {
    if (event instanceof LedgerEvent.ReadingTaken reading) {
      heard.read(reading);
      String read =
          String.format(
              Locale.ROOT,
              "%-14s %9s  ± %.1f G (k = 2)",
              reading.stage(),
              FluxDensity.ofMicroTesla(reading.fieldMicroTesla()).inGauss(),
              2 * reading.uncertaintyNanoTesla() * 1e-5);
      say(seconds, read);
    }
  }

  private void say(double seconds, String words) {
    screen.stay(String.format(Locale.ROOT, "  %6.1f s  %s", seconds, words));
  }

  @Override
  public void now(HeadWork.HandLive live) {
    if (!live.sentence().equals(sentence)) {
      sentence = live.sentence();
      screen.stay(sentence);
    }
    if (live.silence().isPresent() && !silent) {
      screen.stay(live.silence().get() + ".");
    }
    silent = live.silence().isPresent();
    screen.keep(live.silence().orElseGet(() -> line(live)));
    sounding.sound(
        silent ? new Sound.Silent() : heard.of(live.cue(), live.value()), live.seconds());
  }

  private String line(HeadWork.HandLive live) {
    Optional<FluxDensity> value = live.value();
    String read =
        value.map(field -> field.inGauss() + " " + LiveWords.pole(field)).orElse("no zero yet");
    HandAsk ask = live.cue().ask();
    String what =
        switch (ask) {
          case CLOSER -> String.format(Locale.ROOT, "closer, %.0f %%", closer(live));
          case AWAY -> "STOP, take it away";
          case WAIT -> "hands off";
          case LEAVE_EMPTY, SEAT, CHARGE_NORTH, CHARGE_SOUTH, TAKE_OUT, LOOK -> "Enter when done";
        };
    return String.format(Locale.ROOT, "  %-18s %s   %s", read, band, what);
  }

  private static double closer(HeadWork.HandLive live) {
    return 100 * live.cue().closeness();
  }

  @Override
  public void says(String words) {
    screen.stay(words);
  }

  void end() {
    screen.end();
  }
}
