package lodestep.device;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.protocol.HeadFlag;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;

/**
 * Goal: a bank is filled a little, held and bled before it is filled for a pulse, each step on what
 * was seen, and the pulse is not fired when a step does not come. Method: each state is stepped
 * just at and just beyond its limit.
 */
class ProveStateTest {

  private static final long T = 1_000_000_000_000L;
  private static final RigConfig RIG = ReferenceRig.virtual();
  private static final ShotPlan PLAN =
      new ShotPlan(
          new Order(3, 1, 1, "charge", true, new FieldStrength(500_000)),
          new Pulse(true, false, new Voltage(40), new Voltage(41)),
          12,
          100,
          RIG.coils().get(0),
          RIG.bank(),
          RIG.limits());
  private static final Outputs PATH = Outputs.high(OutputLine.COIL_FULL);
  private static final Outputs HELD = PATH.and(OutputLine.BANK_HOLD);
  private static final Outputs FILLS = HELD.and(OutputLine.BANK_FILL);

  private static Scans after(long ns) {
    Scans scan = new Scans(T + ns);
    scan.bankProven = false;
    return scan;
  }

  private static Scans inPlace(long ns) {
    return after(ns).closed(InputLine.FULL_CONTACT).says(HeadFlag.FULL_CONTACT);
  }

  private static void assertGoes(ActStep step, PulseState next, Outputs wanted) {
    assertThat(step.next()).isEqualTo(next);
    assertThat(step.wanted()).isEqualTo(wanted);
    assertThat(step.permit()).isTrue();
    assertThat(step.requests()).isEmpty();
  }

  private static void assertUnproven(ActStep step, String why) {
    PulseResult result = (PulseResult) step.next().result().orElseThrow();
    assertThat(result.outcome()).isEqualTo(Outcome.NOT_FIRED);
    assertThat(result.why()).contains("could not be proven").contains(why);
    assertThat(step.permit()).isFalse();
    assertThat(step.wanted().isHigh(OutputLine.BANK_HOLD)).isFalse();
  }

  @Test
  void comesBeforeTheRelaysOfThePulseUnlessTheBankIsProven() {
    FillState.SetRelays sets = new FillState.SetRelays(PLAN, T, T);
    Scans proven = after(5);
    proven.bankProven = true;

    assertGoes(sets.step(after(5).view()), new ProveState.SetPath(PLAN, T + 5, T + 5), PATH);
    assertThat(sets.step(proven.view()).next()).isInstanceOf(FillState.SetRelays.class);
    assertThat(new ProveState.SetPath(PLAN, T, T).aside().orElse("")).contains("proving");
  }

  @Test
  void holdsOnlyAnEmptyBankWithTheRelaysInPlaceForLongEnough() {
    long settle = PLAN.limits().relaySettleNs();
    ProveState.SetPath sets = new ProveState.SetPath(PLAN, T, T);
    Scans noPermit = inPlace(settle).bank(2_000);
    noPermit.flags &= ~HeadFlag.PERMIT.bit();

    assertGoes(
        sets.step(inPlace(settle).bank(2_000).view()),
        new ProveState.OpenBleed(PLAN, T + settle),
        HELD);
    assertGoes(sets.step(inPlace(settle - 1).view()), sets, PATH);
    assertGoes(sets.step(noPermit.view()), sets, PATH);
    ProveState.SetPath anew = new ProveState.SetPath(PLAN, T, T + settle);
    assertGoes(sets.step(inPlace(settle).bank(2_001).view()), anew, PATH);
    assertGoes(sets.step(after(settle).view()), anew, PATH);
    long held = PLAN.limits().bankHeldNs();
    assertThat(sets.step(after(held).view()).next().result()).isEmpty();
    assertUnproven(sets.step(after(held + 1).view()), "in time");
  }

  @Test
  void fillsToSixVoltsLessWhatTheRelaysReleaseWillAdd() {
    long held = PLAN.limits().bankHeldNs();
    ProveState.OpenBleed opens = new ProveState.OpenBleed(PLAN, T);
    ProveState.FillLittle fills = new ProveState.FillLittle(PLAN, T, 0, 0);

    assertGoes(opens.step(after(5).view()), new ProveState.FillLittle(PLAN, T + 5, 0, 0), FILLS);
    assertGoes(opens.step(after(held).closed(InputLine.BLEED_CONTACT).view()), opens, HELD);
    assertUnproven(
        opens.step(after(held + 1).closed(InputLine.BLEED_CONTACT).view()), "did not open");
    assertGoes(fills.step(after(5).bank(6_000).line()), new ProveState.Stand(PLAN, T + 5), HELD);
    assertGoes(
        fills.step(after(5).bank(5_999).line()),
        new ProveState.FillLittle(PLAN, T, 5_999, 0),
        FILLS);
    // 100 mV in the 10 ms of a line are 150 mV in the 15 ms of the release.
    ProveState.FillLittle rising = new ProveState.FillLittle(PLAN, T, 5_750, 0);
    assertGoes(rising.step(after(5).bank(5_850).line()), new ProveState.Stand(PLAN, T + 5), HELD);
    assertGoes(
        rising.step(after(5).bank(5_849).line()),
        new ProveState.FillLittle(PLAN, T, 5_849, 9_900),
        FILLS);
    assertGoes(rising.step(after(5).bank(5_849).view()), rising, FILLS);
    assertGoes(fills.step(after(held).view()), fills, FILLS);
    assertUnproven(fills.step(after(held + 1).view()), "not filled");
  }

  @Test
  void holdsItThenBleedsItAndGoesOnOnceTheInterlocksHaveSeenIt() {
    long held = PLAN.limits().bankHeldNs();
    ProveState.Stand stands = new ProveState.Stand(PLAN, T);
    Scans open = after(ProveState.HOLD_NS).closed(InputLine.FILL_CONTACT);

    assertGoes(stands.step(open.view()), new ProveState.Bleed(PLAN, T + ProveState.HOLD_NS), PATH);
    open.nowNs--;
    assertGoes(stands.step(open.view()), stands, HELD);
    assertGoes(stands.step(after(held).view()), stands, HELD);
    assertUnproven(stands.step(after(held + 1).view()), "fill contact did not open");

    ProveState.Bleed bleeds = new ProveState.Bleed(PLAN, T);
    long wait = PLAN.limits().ledgerWaitNs();
    Scans proven = after(5);
    proven.bankProven = true;
    assertGoes(
        bleeds.step(proven.view()), new FillState.SetRelays(PLAN, T + 5, T + 5), PLAN.relays());
    assertGoes(bleeds.step(after(wait).view()), bleeds, PATH);
    assertUnproven(bleeds.step(after(wait + 1).view()), "not all of it was seen");
  }

  @Test
  void laysThePathAsForTheChargeOfThisMagnetWhateverThePulseIs() {
    assertThat(PLAN.proving()).isEqualTo(PATH);
    ShotPlan down =
        new ShotPlan(
            new Order(3, 1, 2, "knock down", true, new FieldStrength(20_000)),
            PLAN.pulse(),
            13,
            10,
            PLAN.coil(),
            PLAN.bank(),
            PLAN.limits());
    assertThat(down.proving()).isEqualTo(PATH.and(OutputLine.COIL_REVERSE));
  }
}
