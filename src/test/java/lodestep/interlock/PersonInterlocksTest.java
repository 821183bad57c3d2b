package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import org.junit.jupiter.api.Test;

/** What a person does: lid, arm key, emergency stop, Stop. */
class PersonInterlocksTest {

  @Test
  @Provokes(TripCause.LID_OPENED)
  void tripsInTheSameScanWhenOneLidContactOpensWhileTheBankIsHeld() {
    Bench bench = Bench.holding(1).set(InputLine.LID_A, false).scan();

    assertThat(bench.tripped()).contains(TripCause.LID_OPENED);
  }

  @Test
  @Provokes(TripCause.LID_OPENED)
  void tripsWhenTheLidIsOpenAndNothingIsDrivenButTheBankIsAboveLow() {
    Bench bench = Bench.holding(10.001).drive();
    bench.bankRule = Optional.of(volts -> 10.001);
    bench.run(20).set(InputLine.LID_A, false).set(InputLine.LID_B, false).run(20);

    assertThat(bench.tripped()).contains(TripCause.LID_OPENED);
  }

  @Test
  @Spares(TripCause.LID_OPENED)
  void sparesAnOpenLidWithTheBankAtLow() {
    Bench bench = Bench.holding(10.000).drive();
    bench.bankRule = Optional.of(volts -> 10.000);
    bench.run(20).set(InputLine.LID_A, false).set(InputLine.LID_B, false).run(20);

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Spares({TripCause.LID_OPENED, TripCause.CHAIN_OPEN, TripCause.LID_CONTACTS_DISAGREE})
  void sparesAnOpenLidWhileLoadingForAsLongAsItStands() {
    Bench bench = Bench.ready();
    bench.set(InputLine.LID_A, false).set(InputLine.LID_B, false).run(60_000);

    assertThat(bench.tripped()).isEmpty();
    assertThat(bench.last.permission().permit()).isFalse();
    assertThat(bench.allows(OutputLine.BANK_HOLD)).isFalse();
  }

  @Test
  @Provokes(TripCause.LID_CONTACTS_DISAGREE)
  void tripsWhenTheLidContactsDisagreeForMoreThanTheLimit() {
    Bench bench = Bench.ready().set(InputLine.LID_B, false).run(210);

    assertThat(bench.tripped()).contains(TripCause.LID_CONTACTS_DISAGREE);
  }

  @Test
  @Spares(TripCause.LID_CONTACTS_DISAGREE)
  void sparesLidContactsThatDisagreeForExactlyTheLimit() {
    Bench bench = Bench.ready().set(InputLine.LID_B, false).run(205);
    bench.free(InputLine.LID_B).run(500);

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  void countsTheLidAsClosedOnlyAfterFiftyMilliseconds() {
    Bench bench = Bench.ready();
    bench.set(InputLine.LID_A, false).set(InputLine.LID_B, false).run(100);
    bench.free(InputLine.LID_A).free(InputLine.LID_B);

    assertThat(bench.run(50).last.permission().permit()).isFalse();
    assertThat(bench.run(5).last.permission().permit()).isTrue();
  }

  @Test
  void permitsNothingUntilTheLidHasBeenSeenOpen() {
    Bench bench = new Bench().set(HeadFlag.PERMIT, true).run(1_000);

    assertThat(bench.tripped()).isEmpty();
    assertThat(bench.last.permission().permit()).isFalse();
    assertThat(bench.state.row().met(Condition.LID_PROVEN)).isFalse();
  }

  @Test
  void permitsNothingOnALidNotSeenOpenForMoreThanEightHours() {
    Bench bench = new Bench(Bench.SETTINGS).madeReady();
    bench.pass(LidWatch.PROVEN_FOR_NS - 305 * Bench.MS).scan();

    assertThat(bench.last.permission().permit()).isTrue();
    assertThat(bench.scan().last.permission().permit()).isFalse();
    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.ARM_KEY_OFF)
  void tripsWhenTheKeyIsTurnedOffWhileTheBankIsHeld() {
    Bench bench = Bench.holding(1).set(InputLine.ARM_KEY, false).scan();

    assertThat(bench.tripped()).contains(TripCause.ARM_KEY_OFF);
  }

  @Test
  @Spares(TripCause.ARM_KEY_OFF)
  void sparesAKeyTurnedOffWhileLoading() {
    Bench bench = Bench.ready().set(InputLine.ARM_KEY, false).run(1_000);

    assertThat(bench.tripped()).isEmpty();
    assertThat(bench.last.permission().permit()).isFalse();
  }

  @Test
  @Provokes(TripCause.STOP_LOOP_OPEN)
  void tripsWhenTheEmergencyStopIsPressedEvenWhileLoading() {
    Bench bench = Bench.ready().set(InputLine.STOP_LOOP, false).scan();

    assertThat(bench.tripped()).contains(TripCause.STOP_LOOP_OPEN);
  }

  @Test
  @Spares({TripCause.STOP_LOOP_OPEN, TripCause.STOP_ASKED})
  void sparesARigOnWhichNobodyPressesAnything() {
    Bench bench = Bench.holding(40).run(10_000);

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.STOP_ASKED)
  void tripsWhenStopIsAsked() {
    Bench bench = Bench.ready();
    bench.stopAsked = true;

    assertThat(bench.scan().tripped()).contains(TripCause.STOP_ASKED);
  }

  @Test
  void namesTheLidAndNotTheChainThatItOpens() {
    Bench bench = Bench.holding(40);
    bench.set(InputLine.LID_A, false).set(InputLine.LID_B, false).run(10);

    assertThat(bench.tripped()).contains(TripCause.LID_OPENED);
    assertThat(bench.firstTrip.orElseThrow().detail()).contains("A open").contains("40.00 V");
  }
}
