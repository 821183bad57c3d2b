package lodestep.app.remote;

import java.util.Optional;
import lodestep.bench.Lots;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.HallElement;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualHand;
import lodestep.sim.VirtualOperator;
import lodestep.sim.VirtualRig;

/**
 * Who stands at a virtual rig in a process of its own: the operator, or a hand in her place where
 * the work is done by hand. Confined to the rig's thread.
 */
final class AtTheRig {

  private final VirtualOperator operator;
  private final Optional<VirtualHand> hand;
  private HandCue cue = HandCue.of(HandAsk.WAIT);

  /**
   * @param goOn where either says "continue"
   */
  AtTheRig(RigOrder order, VirtualRig rig, Runnable goOn) {
    AlloyBook book = Lots.of(order.rig());
    HallElement element = Lots.element(order.rig());
    this.operator =
        new VirtualOperator(
            rig,
            StockPiece.made(order.pieces(), book, element),
            command -> goOn.run(),
            () -> cue,
            order.operatorSeed());
    this.hand =
        order.hand().stream()
            .findFirst()
            .map(given -> given.hand(rig, book, element, () -> cue, goOn));
  }

  void step(long nowNs) {
    if (hand.isPresent()) {
      hand.get().step(nowNs);
    } else {
      operator.step(nowNs);
    }
  }

  /** What the person at the rig is asked to do now. */
  void cue(HandCue next) {
    cue = next;
  }

  /** Whether the operator gave up on a trip that would not clear. */
  boolean gaveUp() {
    return operator.gaveUp();
  }
}
