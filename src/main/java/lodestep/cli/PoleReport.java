package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent.PoleTopRead;
import lodestep.quantity.FluxDensity;

/** Each new sentence and each pole top that was read on a line that stays. */
final class PoleReport implements HeadWork.HandWatcher {

  private final Screen screen;
  private String sentence = "";

  PoleReport(Screen screen) {
    this.screen = screen;
  }

  /** The sentence said last. */
  String sentence() {
    return sentence;
  }

  @Override
  public void event(LedgerEvent event, double seconds) {
    if (event instanceof PoleTopRead top) {
      screen.stay(
          said(
              "  %6.1f s  pole %d reads %s ± %.2f G (k = 2)",
              seconds,
              top.pole(),
              FluxDensity.ofMicroTesla(top.fieldMicroTesla()).inGauss(),
              2 * top.uncertaintyNanoTesla() * 1e-5));
    }
  }

  @Override
  public void now(HeadWork.HandLive live) {
    if (!live.sentence().equals(sentence)) {
      sentence = live.sentence();
      screen.stay(sentence);
    }
  }

  @Override
  public void says(String words) {
    screen.stay(words);
  }
}
