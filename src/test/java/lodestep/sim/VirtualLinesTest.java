package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashSet;
import java.util.Set;
import lodestep.config.ReferenceRig;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import org.junit.jupiter.api.Test;

/** The host's wires: safe levels first, then what can be wrong with them. */
class VirtualLinesTest {

  private static final Outputs EVERYTHING = Outputs.high(OutputLine.values());

  private static VirtualRig rig(FaultPlan plan) {
    VirtualRig rig = new VirtualRig(ReferenceRig.virtual(), ReferenceRig.ROD_NEST, 3L, plan);
    rig.step();
    return rig;
  }

  private static void run(VirtualRig rig, int ms) {
    for (int i = 0; i < ms; i++) {
      rig.step();
    }
  }

  @Test
  void startsWithEveryOutputLow() {
    assertThat(rig(FaultPlan.NONE).lines().driven()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void readsBackWhatItDrives() {
    VirtualRig rig = rig(FaultPlan.NONE);

    assertThat(rig.lines().drive(EVERYTHING)).isEqualTo(EVERYTHING);
    assertThat(rig.lines().drive(Outputs.ALL_LOW)).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void isLowAndStaysLowOnceClosed() {
    VirtualRig rig = rig(FaultPlan.NONE);
    rig.lines().drive(EVERYTHING);

    rig.lines().close();

    assertThat(rig.lines().driven()).isEqualTo(Outputs.ALL_LOW);
    assertThat(rig.lines().drive(EVERYTHING)).isEqualTo(Outputs.ALL_LOW);
    rig.lines().close();
    assertThat(rig.lines().driven()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void readsTheContactsOfTheStart() {
    VirtualRig rig = rig(FaultPlan.NONE);

    Set<InputLine> closed = new HashSet<>();
    for (InputLine line : InputLine.values()) {
      if (rig.lines().read(9L).closed(line)) {
        closed.add(line);
      }
    }

    assertThat(closed)
        .containsExactlyInAnyOrder(
            InputLine.STOP_LOOP, InputLine.FILL_CONTACT, InputLine.BLEED_CONTACT);
    assertThat(rig.lines().read(9L).readAtNs()).isEqualTo(9L);
  }

  @Test
  void readsEachHandleOfTheBench() {
    VirtualRig rig = rig(FaultPlan.NONE);
    rig.controls().lidContactA(true);
    rig.controls().armKey(true);
    rig.controls().pedal(true);
    rig.controls().stopDevice(true);
    rig.step();

    assertThat(rig.lines().read(0L).closed(InputLine.LID_A)).isTrue();
    assertThat(rig.lines().read(0L).closed(InputLine.LID_B)).isFalse();
    assertThat(rig.lines().read(0L).closed(InputLine.ARM_KEY)).isTrue();
    assertThat(rig.lines().read(0L).closed(InputLine.START_PEDAL)).isTrue();
    assertThat(rig.lines().read(0L).closed(InputLine.STOP_LOOP)).isFalse();
  }

  @Test
  void showsAStuckOutputInTheReadBack() {
    FaultPlan plan =
        FaultPlan.NONE
            .with(new Fault.OutputStuck(OutputLine.BANK_FILL, true), 0L)
            .with(new Fault.OutputStuck(OutputLine.BUZZER, false), 0L);
    VirtualRig rig = rig(plan);

    assertThat(rig.lines().drive(Outputs.ALL_LOW)).isEqualTo(Outputs.high(OutputLine.BANK_FILL));
    assertThat(rig.lines().drive(Outputs.high(OutputLine.BUZZER)))
        .isEqualTo(Outputs.high(OutputLine.BANK_FILL));
  }

  @Test
  void readsABrokenWireAsOpen() {
    FaultPlan plan =
        FaultPlan.NONE.with(
            new Fault.HostWireBroken(InputLine.STOP_LOOP), TestHost.atMs(10), TestHost.atMs(20));
    VirtualRig rig = rig(plan);
    assertThat(rig.lines().read(0L).closed(InputLine.STOP_LOOP)).isTrue();

    run(rig, 10);
    assertThat(rig.lines().read(0L).closed(InputLine.STOP_LOOP)).isFalse();
    run(rig, 10);

    assertThat(rig.lines().read(0L).closed(InputLine.STOP_LOOP)).isTrue();
  }

  @Test
  void readsAFlippedInputTheOtherWayRound() {
    FaultPlan plan =
        FaultPlan.NONE
            .with(new Fault.InputFlipped(InputLine.STOP_LOOP), 0L)
            .with(new Fault.InputFlipped(InputLine.ARM_KEY), 0L);
    VirtualRig rig = rig(plan);

    assertThat(rig.lines().read(0L).closed(InputLine.STOP_LOOP)).isFalse();
    assertThat(rig.lines().read(0L).closed(InputLine.ARM_KEY)).isTrue();
  }

  @Test
  void readsAContactStuckClosedAsClosed() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.ContactStuck(InputLine.FULL_CONTACT, true), 0L);

    assertThat(rig(plan).lines().read(0L).closed(InputLine.FULL_CONTACT)).isTrue();
  }

  @Test
  void flipsOneInputForAFewMillisecondsAtAPulse() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.PulseNoise(), 0L);
    TestHost host = new TestHost(plan).filledTo(10.0);
    host.openWindow(host.token(1L), 1L);
    int before = bits(host);
    host.raise(OutputLine.COIL_FIRE);
    host.rig.lines().drive(host.outputs);

    int flipped = 0;
    for (int ms = 0; ms < 20; ms++) {
      host.rig.step();
      flipped += Integer.bitCount(bits(host) ^ before);
    }

    assertThat(flipped).isBetween(1, 5);
  }

  private static int bits(TestHost host) {
    return host.rig.lines().read(host.rig.clock().nowNs()).closedBits();
  }
}
