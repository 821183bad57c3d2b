package lodestep.interlock;

import static lodestep.port.OutputLine.BANK_FILL;
import static lodestep.port.OutputLine.BANK_HOLD;
import static lodestep.port.OutputLine.COIL_FIRE;
import static lodestep.port.OutputLine.COIL_FULL;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import org.junit.jupiter.api.Test;

/**
 * Fill contact, switch and bleed are proven by what is driven and measured, and by all of it; and a
 * proof ends with what may have changed.
 */
class ProofInterlocksTest {

  private static final double BLEED_SECONDS =
      Bench.BANK.bleedOhms() * Bench.BANK.capacitanceFarads();
  private static final double BLEEDER_SECONDS =
      Bench.BANK.bleederOhms() * Bench.BANK.capacitanceFarads();

  /** Everything in order, and the proof made at start void again, by an opened lid. */
  private static Bench unproven() {
    return opened(Bench.ready());
  }

  private static Bench opened(Bench bench) {
    bench.set(InputLine.LID_A, false).set(InputLine.LID_B, false).run(100);
    return bench.free(InputLine.LID_A).free(InputLine.LID_B).run(200);
  }

  private static boolean proven(Bench bench) {
    return bench.state.row().met(Condition.BANK_PROVEN);
  }

  /** The bank at 6 V, fill relay let go, held for so many milliseconds, then let go. */
  private static Bench heldFor(Bench bench, int milliseconds) {
    return bench.fill(6, COIL_FULL).run(milliseconds).drive(COIL_FULL);
  }

  /** Each scan the bank keeps this part of its voltage less so many volts, whatever is driven. */
  private static void falls(Bench bench, double seconds) {
    bench.bankRule = Optional.of(volts -> volts * Math.exp(-0.005 / seconds));
  }

  @Test
  void provesByFillingHoldingAndBleeding() {
    Bench bench = heldFor(unproven(), 150);
    boolean held = proven(bench);
    bench.run(300);
    boolean notYetHalf = proven(bench);
    bench.run(60);

    assertThat(held).isFalse();
    assertThat(notYetHalf).isFalse();
    assertThat(proven(bench)).isTrue();
    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  void saysOnceWhatItSaw() {
    Bench bench = heldFor(unproven(), 150);
    Optional<BankProof> seen = Optional.empty();
    int times = 0;
    for (int i = 0; i < 200; i++) {
      bench.scan();
      times += bench.state.bankProof().isPresent() ? 1 : 0;
      seen = seen.or(bench.state::bankProof);
    }

    assertThat(times).isEqualTo(1);
    assertThat(seen.orElseThrow().filledMilliVolts()).isEqualTo(6_000);
    assertThat(seen.get().heldMicros()).isBetween(100_000L, 130_000L);
    assertThat(seen.get().coilMilliAmps()).isZero();
    assertThat(seen.get().bledMilliVolts()).isBetween(2_800, 3_000);
    // A bank comes to half in R C ln 2.
    assertThat(seen.get().bledMicros())
        .isBetween((long) (BLEED_SECONDS * Math.log(2) * 1e6), 360_000L);
  }

  @Test
  void allowsAnUnprovenBankToBeFilledOnlyWhileItIsLow() {
    Bench bench = unproven().fill(10.000).run(100);
    boolean low = bench.allows(BANK_FILL);
    bench.bankVolts = 10.001;
    bench.run(10);

    assertThat(low).isTrue();
    assertThat(bench.allows(BANK_FILL)).isFalse();
    assertThat(Permissive.unmet(bench.state.row(), BANK_FILL))
        .containsExactly(Condition.BANK_PROVEN);
    assertThat(Bench.holding(10.001).allows(BANK_FILL)).isTrue();
  }

  @Test
  void allowsFiringOnlyOfAProvenBank() {
    Bench bench = unproven().fill(5).run(300).scanToLine();
    bench.set(HeadFlag.WINDOW, true).scanToLine();
    Bench proven = Bench.holding(5).scanToLine();
    proven.set(HeadFlag.WINDOW, true).scanToLine();

    assertThat(bench.allows(COIL_FIRE)).isFalse();
    assertThat(proven.allows(COIL_FIRE)).isTrue();
  }

  @Test
  void wantsTheBankWatchedForFiftyMilliseconds() {
    // The fill contact counts as open 30 ms after its relay was let go; lines come every 10 ms.
    assertThat(proven(heldFor(unproven(), 75).run(600))).isFalse();
    assertThat(proven(heldFor(unproven(), 95).run(600))).isTrue();
  }

  @Test
  void wantsTheFillContactSeenOpen() {
    Bench bench = unproven().fill(6, COIL_FULL);
    bench.set(InputLine.FILL_CONTACT, false).run(90);
    bench.free(InputLine.FILL_CONTACT).drive(COIL_FULL).run(600);

    assertThat(bench.tripped()).isEmpty();
    assertThat(proven(bench)).isFalse();
  }

  @Test
  void wantsTheSeriesResistorBridged() {
    Bench bench = unproven().fill(6).run(150).drive().run(600);

    assertThat(proven(bench)).isFalse();
    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  void wantsEnoughInTheBankToDriveACurrentThatShows() {
    assertThat(proven(unproven().fill(2.9, COIL_FULL).run(150).drive(COIL_FULL).run(600)))
        .isFalse();
    assertThat(proven(unproven().fill(3.1, COIL_FULL).run(150).drive(COIL_FULL).run(600))).isTrue();
  }

  @Test
  void doesNotTakeABankAboveLowForAProof() {
    Bench bench = unproven().fill(10.1, COIL_FULL).run(150).drive(COIL_FULL).run(800);

    assertThat(bench.tripped()).isEmpty();
    assertThat(proven(bench)).isFalse();
  }

  @Test
  void doesNotTakeABankThatCreepsUpForAProof() {
    Bench bench = unproven().fill(6, COIL_FULL);
    // 1.5 V a second: less than the trip of a rising bank, more than a healthy contact passes.
    bench.bankRule = Optional.of(volts -> volts + 0.0075);
    bench.run(95);
    bench.bankRule = Optional.empty();
    bench.drive(COIL_FULL).run(600);

    assertThat(bench.tripped()).isEmpty();
    assertThat(proven(bench)).isFalse();
  }

  @Test
  @Provokes(TripCause.CURRENT_UNCOMMANDED)
  void tripsWithCurrentThroughTheSwitchAtTheProof() {
    Bench bench = unproven().fill(6, COIL_FULL);
    bench.coilMilliAmps = 51;

    assertThat(bench.run(20).tripped()).contains(TripCause.CURRENT_UNCOMMANDED);
    assertThat(proven(bench)).isFalse();
  }

  @Test
  @Provokes(TripCause.BANK_FALLING)
  void tripsWhenTheHeldBankFallsFasterThanItsBleederExplains() {
    Bench bench = unproven().fill(6, COIL_FULL);
    // 150 ohms across it: 18 V a second at most, 0.2 V in the time it is watched.
    falls(bench, 150 * Bench.BANK.capacitanceFarads());

    assertThat(bench.run(150).tripped()).contains(TripCause.BANK_FALLING);
  }

  @Test
  @Spares(TripCause.BANK_FALLING)
  void sparesABankThatItsBleederBringsDown() {
    Bench bench = unproven().fill(6, COIL_FULL);
    falls(bench, BLEEDER_SECONDS / 2);
    bench.run(150);
    bench.bankRule = Optional.empty();
    bench.drive(COIL_FULL).run(600);

    assertThat(bench.tripped()).isEmpty();
    assertThat(proven(bench)).isTrue();
  }

  @Test
  @Provokes(TripCause.BANK_NOT_FALLING)
  void tripsWhenTheBankDoesNotBleedAtTheProof() {
    Bench bench = heldFor(unproven(), 150);
    falls(bench, BLEEDER_SECONDS);

    assertThat(bench.run(900).tripped()).contains(TripCause.BANK_NOT_FALLING);
  }

  @Test
  @Provokes(TripCause.BANK_NOT_FALLING)
  void tripsWhenASmallBankComesToHalfTooLate() {
    // So quick a bank is below half a volt before the watch on bleeding looks at it.
    BankConfig quick =
        new BankConfig(0.022, Bench.BANK.voltageMax(), Bench.BANK.supplyVoltage(), 100, 2000, 2.2);
    Bench bench =
        Bench.ready(
            new InterlockSettings(
                Bench.SETTINGS.limits(), quick, Bench.SETTINGS.coilTemperatureMax()));
    opened(bench);
    heldFor(bench, 150);
    bench.bankRule = Optional.of(volts -> volts > 3.5 ? volts : 0.4);

    assertThat(bench.run(180).tripped()).contains(TripCause.BANK_NOT_FALLING);
  }

  @Test
  @Spares({TripCause.BANK_NOT_FALLING, TripCause.BANK_RISING})
  void provesABankThatBleedsALittleFasterThanHalfAsFastAsItShould() {
    Bench bench = heldFor(unproven(), 150);
    falls(bench, BLEED_SECONDS / 0.55);
    bench.run(700);

    assertThat(proven(bench)).isTrue();
    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  void endsWithTheLid() {
    Bench bench = Bench.ready();
    boolean before = proven(bench);
    bench.set(InputLine.LID_B, false).scan();

    assertThat(before).isTrue();
    assertThat(proven(bench)).isFalse();
    assertThat(proven(bench.free(InputLine.LID_B).run(500))).isFalse();
    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  void endsWithATripAndDoesNotComeBackWithItsReset() {
    Bench bench = Bench.ready();
    bench.stopAsked = true;
    bench.scan();
    boolean tripped = proven(bench);
    bench.stopAsked = false;
    bench.set(InputLine.ARM_KEY, false).run(100).free(InputLine.ARM_KEY).run(100);

    assertThat(tripped).isFalse();
    assertThat(bench.state.trip()).isEmpty();
    assertThat(proven(bench)).isFalse();
  }

  @Test
  void endsWithAnErrorOfTheProgram() {
    Bench bench = Bench.ready();
    InterlockStep step =
        new InterlockLogic(Bench.SETTINGS).programError(bench.state, "planted", bench.nowNs);
    bench.state = step.next();

    assertThat(proven(bench.scan())).isFalse();
  }

  @Test
  void endsWithAnotherRunOfTheHead() {
    Bench bench = Bench.ready();
    bench.bootId++;

    assertThat(proven(bench.scanToLine())).isFalse();
  }

  @Test
  void endsWithAgeButNotUnderAHeldBank() {
    Bench bench = Bench.ready();
    bench.run(595_000);
    boolean young = proven(bench);
    bench.run(6_000);
    Bench held = Bench.ready().run(590_000).drive(BANK_HOLD);

    assertThat(young).isTrue();
    assertThat(proven(bench)).isFalse();
    assertThat(proven(held.run(20_000))).isTrue();
    assertThat(proven(held.drive().run(10))).isFalse();
  }

  @Test
  void asksNoProofWhereThereIsNoBank() {
    assertThat(proven(Bench.ready(Bench.JIG_ONLY))).isTrue();
  }

  @Test
  void isNotMadeByAPulse() {
    Bench bench = unproven().fill(6, COIL_FULL).run(150);
    bench.drive(COIL_FULL, BANK_HOLD, OutputLine.COIL_FIRE).run(60);
    bench.bankVolts = 2.5;
    bench.drive(COIL_FULL).run(600);

    assertThat(proven(bench)).isFalse();
  }
}
