package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.config.ReferenceRig;
import lodestep.ledger.MemoryStore;
import lodestep.scan.CycleTimes;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualRig;
import org.junit.jupiter.api.Test;

/** Goal: a virtual rig tells how late the machine is, by the machine's own clock. */
class VirtualPaceTest {

  private static final long MS = 1_000_000L;

  private final HandPace machine = new HandPace(7_000 * MS);
  private final VirtualRig rig =
      new VirtualRig(ReferenceRig.virtual(), ReferenceRig.ROD_NEST, 3, FaultPlan.NONE);
  private final VirtualPace pace =
      new VirtualPace(
          rig,
          new VirtualLedger(3, new MemoryStore()),
          new VirtualHands(rig, new VirtualSpare(ReferenceRig.virtual(), 3), 3),
          rig::step,
          machine,
          1);

  private void scan() {
    pace.until(pace.nowNs() + 5 * MS);
  }

  @Test
  void countsAScanThatTheMachineBringsTooLateToFireIn() {
    scan();
    scan();
    assertThat(pace.times()).isEqualTo(new CycleTimes(2, 0, 0, 0));

    machine.pass(24 * MS);
    scan();
    assertThat(pace.times().overruns()).as("19 ms late").isZero();
    assertThat(pace.times().worstLateNs()).isEqualTo(19 * MS);
    machine.pass(70 * MS);
    scan();

    assertThat(pace.times().overruns()).isEqualTo(1);
    assertThat(pace.times().worstLateNs()).isEqualTo(84 * MS);
  }

  /** What the machine has lost is not made up for, so that the rig does not rush. */
  @Test
  void isOnTimeAgainAfterALongDelay() {
    scan();
    machine.pass(400 * MS);
    scan();
    scan();
    scan();

    assertThat(pace.times().overruns()).isEqualTo(1);
    assertThat(pace.times().lastLateNs()).isZero();
  }
}
