package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import lodestep.port.GaugeEvent.PointRead;
import lodestep.port.GaugeEvent.ReferenceRead;
import lodestep.port.GaugeEvent.StudyRead;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;

/** Guided readings: each new sentence, and each reading, on a line that stays. One thread. */
final class GuidedReport implements HeadWork.HandWatcher {

  private final Screen screen;
  private final boolean figures;
  private String sentence = "";
  private boolean silent;

  /**
   * @param figures whether a reading is shown as soon as it is taken
   */
  GuidedReport(Screen screen, boolean figures) {
    this.screen = screen;
    this.figures = figures;
  }

  @Override
  public void event(LedgerEvent event, double seconds) {
    if (event instanceof ReferenceRead read) {
      screen.stay(
          said(
              "  %6.1f s  %s %s ± %.1f G (k = 2), certificate %s",
              seconds,
              read.stage(),
              FluxDensity.ofMicroTesla(read.fieldMicroTesla()).inGauss(),
              2 * read.uncertaintyNanoTesla() * 1e-5,
              FluxDensity.ofMicroTesla(read.certificateMicroTesla()).inGauss()));
    } else if (event instanceof StudyRead read) {
      shown(read.part(), read.fieldMicroTesla(), read.uncertaintyNanoTesla(), seconds);
    } else if (event instanceof PointRead read) {
      shown(
          read.point() + ", " + read.face() + " face",
          read.fieldMicroTesla(),
          read.uncertaintyNanoTesla(),
          seconds);
    }
  }

  private void shown(String what, long microTesla, long uncertaintyNanoTesla, double seconds) {
    screen.stay(
        figures
            ? said(
                "  %6.1f s  %s %s ± %.1f G (k = 2)",
                seconds,
                what,
                FluxDensity.ofMicroTesla(microTesla).inGauss(),
                2 * uncertaintyNanoTesla * 1e-5)
            : said("  %6.1f s  %s is read.", seconds, what));
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
  }

  @Override
  public void says(String words) {
    screen.stay(words);
  }

  /** The last sentence, if it was not said yet. */
  void ends(String last) {
    if (!sentence.equals(last)) {
      screen.stay(last);
    }
    screen.end();
  }
}
