package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.SplittableRandom;
import lodestep.config.ReferenceRig;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/** The physical rig: chain, relays, heat and the magnet, driven through the ports alone. */
class PlantTest {

  @Test
  void fillsOnlyWithThePermit() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.rig.controls().lid(true);
    host.raise(OutputLine.BANK_HOLD);
    host.raise(OutputLine.BANK_FILL);

    host.run(1000);

    assertThat(host.bankVolts()).isEqualTo(0.0);
    assertThat(host.closed(InputLine.BLEED_CONTACT)).isTrue();
    assertThat(host.closed(InputLine.FILL_CONTACT)).isTrue();
  }

  @Test
  void fillsWithThePermit() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(30.0);

    assertThat(host.bankVolts()).isBetween(29.8, 31.5);
    assertThat(host.closed(InputLine.FILL_CONTACT)).isTrue();
    assertThat(host.closed(InputLine.BLEED_CONTACT)).isFalse();
  }

  @Test
  void emptiesTheBankByWireAloneWhenTheLidOpens() {
    TestHost host = new TestHost(FaultPlan.NONE).filledTo(45.0);
    host.raise(OutputLine.BANK_FILL);
    host.run(50);

    host.rig.controls().lidContactB(false);
    host.run(25);
    assertThat(host.closed(InputLine.FILL_CONTACT)).isTrue();
    assertThat(host.closed(InputLine.BLEED_CONTACT)).isTrue();
    host.run(2000);

    assertThat(host.bankVolts()).isLessThan(10.0);
  }

  @Test
  void keepsAwayFromTheChainWhatOnlyOneLidContactSays() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.ContactStuck(InputLine.LID_A, true), 0L);
    TestHost host = new TestHost(plan).filledTo(20.0);

    host.rig.controls().lid(false);
    host.run(1000);

    assertThat(host.closed(InputLine.LID_A)).isTrue();
    assertThat(host.closed(InputLine.LID_B)).isFalse();
    assertThat(host.bankVolts()).isLessThan(5.0);
  }

  @Test
  void feedsTheMagnetThePeaksOfThePulse() {
    TestHost host = new TestHost(FaultPlan.NONE);
    MarkedMagnet magnet = new MarkedMagnet(0.02);
    host.rig.controls().seat(magnet, new SplittableRandom(1));
    host.filledTo(25.0);

    HeadFrame.PulseReport report = host.pulse(7L, 60);

    assertThat(magnet.pulses).hasSize(1);
    assertThat(magnet.pulses.get(0).reverse()).isEqualTo(0.0);
    assertThat(magnet.pulses.get(0).forward())
        .isCloseTo(7000.0 * report.peakForwardMilliAmps() * 1e-3, withinPercentage(0.6));
  }

  @Test
  void turnsThePulseRoundWithTheChangeover() {
    TestHost host = new TestHost(FaultPlan.NONE);
    MarkedMagnet magnet = new MarkedMagnet(0.02);
    host.rig.controls().seat(magnet, new SplittableRandom(1));
    host.raise(OutputLine.COIL_REVERSE);
    host.filledTo(25.0);

    HeadFrame.PulseReport report = host.pulse(7L, 60);

    assertThat(host.has(HeadFlag.REVERSE_CONTACT)).isTrue();
    assertThat(magnet.pulses.get(0).reverse()).isGreaterThan(30_000.0);
    assertThat(magnet.pulses.get(0).forward()).isEqualTo(0.0);
    assertThat(report.peakReverseMilliAmps()).isGreaterThan(4500);
  }

  /** Energy book: what the pulse leaves in the winding is ∫i²R dt, over its heat capacity. */
  @Test
  void warmsTheCoilByTheActionOfThePulse() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.raise(OutputLine.COIL_FULL);
    host.filledTo(45.0);
    double before = host.rig.plant().coilTemperature().kelvin();
    double beforeVolts = host.bankVolts();

    host.pulse(7L, 60);

    // The whole loop is the coil in this range, so it takes what left the bank, but for the
    // bleeder's share and the diode's.
    double joules = 0.5 * 22e-3 * beforeVolts * beforeVolts;
    double rise = host.rig.plant().coilTemperature().kelvin() - before;
    assertThat(rise).isCloseTo(joules / 60.0, withinPercentage(3.0));
  }

  /** First-order cooling: after one time constant, heat capacity times resistance, 1/e is left. */
  @Test
  void coolsWithItsTimeConstant() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.rig.plant().warmCoil(Temperature.ofDegC(61.5));

    host.run(360_000);

    double rise = host.rig.plant().coilTemperature().degC() - 21.5;
    assertThat(rise).isCloseTo(40.0 / Math.E, within(0.01));
  }

  @Test
  void opensTheChainWhenTheThermostatIsHot() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.rig.controls().lid(true);
    host.run(50);
    assertThat(host.has(HeadFlag.CHAIN)).isTrue();

    host.rig.plant().warmCoil(Temperature.ofDegC(86.0));
    host.run(50);

    assertThat(host.has(HeadFlag.CHAIN)).isFalse();
  }

  @Test
  void opensTheChainWhenTheSupplyOverfillsTheBank() {
    opensTheChainWhenOverfilled(FaultPlan.NONE);
  }

  /** The comparator has a divider of its own. */
  @Test
  void opensTheChainAboveTheComparatorsVoltageWhateverTheHeadReads() {
    opensTheChainWhenOverfilled(FaultPlan.NONE.with(new Fault.BankSense(0.5), 0L));
  }

  private static void opensTheChainWhenOverfilled(FaultPlan with) {
    FaultPlan plan = with.with(new Fault.SupplyWrong(70.0), 0L);
    TestHost host = new TestHost(plan);
    host.permitted();
    host.raise(OutputLine.BANK_HOLD);
    host.raise(OutputLine.BANK_FILL);

    double highest = 0.0;
    for (int i = 0; i < 1000; i++) {
      host.run(5);
      highest = Math.max(highest, host.bankVolts());
    }

    assertThat(highest).isBetween(50.5, 53.0);
    assertThat(host.bankVolts()).isLessThan(50.0);
  }

  @Test
  void keepsFillingThroughAWeldedFillRelay() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.RelayWelded(RelayName.FILL), TestHost.atMs(100));
    TestHost host = new TestHost(plan).filledTo(20.0);

    host.run(500);

    assertThat(host.closed(InputLine.FILL_CONTACT)).isFalse();
    assertThat(host.bankVolts()).isGreaterThan(28.0);
  }

  @Test
  void holdsTheBankWhenTheBleedRelayIsStuckPulledIn() {
    FaultPlan plan =
        FaultPlan.NONE.with(new Fault.RelayStuck(RelayName.HOLD, true), TestHost.atMs(100));
    TestHost host = new TestHost(plan).filledTo(30.0);

    host.lower(OutputLine.BANK_HOLD);
    host.run(2000);

    assertThat(host.closed(InputLine.BLEED_CONTACT)).isFalse();
    assertThat(host.bankVolts()).isGreaterThan(28.0);
  }

  @Test
  void mountsAnotherNestWithItsCoilAndRemembersTheHeatOfTheFirst() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.rig.plant().warmCoil(Temperature.ofDegC(55.0));

    host.rig.plant().mount(ReferenceRig.BAR_NEST);
    assertThat(host.rig.plant().coil().name()).isEqualTo("slot coil");
    assertThat(host.rig.plant().coilTemperature().degC()).isCloseTo(21.5, within(1e-9));
    host.rig.plant().mount(ReferenceRig.ROD_NEST);

    assertThat(host.rig.plant().coilTemperature().degC()).isCloseTo(55.0, within(1e-9));
  }

  @Test
  void refusesANestTheRigDoesNotHave() {
    TestHost host = new TestHost(FaultPlan.NONE);

    assertThatThrownBy(() -> host.rig.plant().mount("ring nest"))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("ring nest");
  }

  @Test
  void addsTheCoilsFieldAtTheGaugeDuringThePulseOnly() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.filledTo(45.0);

    host.pulse(7L, 60);

    // 5 A and more at 7000 A/m for one ampere, a third of it at the gauge: some 15 mT.
    int highest =
        host.all(HeadFrame.Status.class).stream()
            .mapToInt(HeadFrame.Status::hallCounts)
            .max()
            .orElseThrow();
    assertThat(highest).isGreaterThan(7_000);
    assertThat(host.status().hallCounts()).isLessThan(1_000);
  }
}
