package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import lodestep.config.ReferenceRig;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.HallElement;
import lodestep.magnet.Shape;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;

/** Goal: the virtual hand does what is asked as often as it is asked, and never oftener. */
class VirtualHandTest {

  private static final Shape ROD = new Shape.Rod(Length.ofMm(5.1), Length.ofMm(18));

  private final VirtualRig rig =
      new VirtualRig(ReferenceRig.virtual(), ReferenceRig.ROD_NEST, 3, FaultPlan.NONE);
  private HandCue cue = HandCue.of(HandAsk.WAIT);
  private int saidDone;
  private final VirtualHand hand =
      new VirtualHand(
          rig,
          StockPiece.made(
              List.of(
                  new StockPiece(
                      "alnico 2", ROD, false, false, 1, 2, ReferenceRig.ROD_NEST, List.of())),
              AlloyBook.standard(),
              HallElement.POINT),
          new VirtualHand.Bench(List.of(420e3), Length.ofMm(18), List.of()),
          () -> cue,
          () -> saidDone++,
          5);

  private void ask(HandAsk ask, int millis) {
    cue = HandCue.of(ask);
    for (int ms = 0; ms < millis; ms++) {
      hand.step(rig.clock().nowNs());
      rig.step();
    }
  }

  @Test
  void saysOnceThatAThingIsDoneHoweverLongItIsAsked() {
    ask(HandAsk.SEAT, 20_000);

    assertThat(saidDone).isEqualTo(1);
    assertThat(hand.seated()).isEqualTo(1);
  }

  /** A busy computer may bring both words within one reaction time. */
  @Test
  void doesAThingAgainThatIsAskedAgainAtOnce() {
    ask(HandAsk.SEAT, 5_000);
    ask(HandAsk.CHARGE_SOUTH, 10_000);
    assertThat(saidDone).isEqualTo(2);

    ask(HandAsk.WAIT, 1);
    ask(HandAsk.CHARGE_SOUTH, 10_000);

    assertThat(saidDone).isEqualTo(3);
  }
}
