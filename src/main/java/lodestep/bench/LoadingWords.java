package lodestep.bench;

import lodestep.dial.PoleUp;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;

/** What is said while a batch waits for a magnet. Pure. */
final class LoadingWords {

  private LoadingWords() {}

  static String sentence(BatchJob.Loading loading) {
    String name = loading.batch().next().map(Entry::name).orElse("");
    if (loading.paused()) {
      return "paused; go on when ready";
    }
    if (!loading.ready()) {
      return "leave the nest empty for a moment: the gauge takes its zero";
    }
    boolean byHand = loading.byHand();
    String first = byHand && !loading.emptied() ? "take out what is in the nest; " : "";
    return first
        + (byHand ? "charge " + name + chargeWords(loading) : "put " + name)
        + " in its nest, close the lid and press the pedal";
  }

  static HandCue cue(BatchJob.Loading loading) {
    if (!loading.byHand()) {
      return HandCue.of(HandAsk.SEAT);
    }
    return HandCue.of(pole(loading) == PoleUp.SOUTH ? HandAsk.CHARGE_SOUTH : HandAsk.CHARGE_NORTH);
  }

  private static PoleUp pole(BatchJob.Loading loading) {
    return loading.batch().next().orElseThrow().prepared().row().poleUp();
  }

  private static String chargeWords(BatchJob.Loading loading) {
    return " between the jaws, the face that is to look at the gauge "
        + pole(loading).word()
        + ", then put it";
  }
}
