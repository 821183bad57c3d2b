package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A trip stays until the arm key has been turned off and on after its cause has gone. */
class LatchTest {

  private static Bench stopped() {
    Bench bench = Bench.ready();
    bench.stopAsked = true;
    bench.scan();
    bench.stopAsked = false;
    return bench;
  }

  private static Bench turnKey(Bench bench, long offMs, long onMs) {
    bench.set(InputLine.ARM_KEY, false).run(offMs);
    return bench.free(InputLine.ARM_KEY).run(onMs);
  }

  @Test
  void resetsWhenTheKeyIsTurnedOffAndOn() {
    Bench bench = turnKey(stopped(), 200, 200);

    assertThat(bench.resets)
        .singleElement()
        .extracting(Trip::cause)
        .isEqualTo(TripCause.STOP_ASKED);
    assertThat(bench.state.trip()).isEmpty();
    assertThat(bench.last.permission().permit()).isTrue();
  }

  @Test
  void turnsNoKeyByContactsReadTooLongAgo() {
    Bench old = stopped();
    old.contactsAgeNs = Latch.STEADY_NS;
    Bench young = stopped();
    young.contactsAgeNs = Latch.STEADY_NS - 1;

    assertThat(turnKey(old, 200, 200).state.trip()).isPresent();
    assertThat(turnKey(young, 200, 200).state.trip()).isEmpty();
  }

  @Test
  void doesNotResetByItself() {
    Bench bench = stopped().run(120_000);

    assertThat(bench.state.trip()).isPresent();
    assertThat(bench.last.permission().permit()).isFalse();
  }

  @Test
  void doesNotResetWhileTheKeyIsOff() {
    Bench bench = stopped().set(InputLine.ARM_KEY, false).run(60_000);

    assertThat(bench.state.trip()).isPresent();
  }

  @Test
  void takesABouncingKeyForNoTurn() {
    Bench bench = stopped();
    for (int i = 0; i < 40; i++) {
      turnKey(bench, 40, 40);
    }

    assertThat(bench.state.trip()).isPresent();
  }

  @Test
  void takesAKeySeenOnForAMomentForNoTurn() {
    Bench bench = stopped().set(InputLine.ARM_KEY, false).run(200);
    bench.free(InputLine.ARM_KEY).run(40).set(InputLine.ARM_KEY, false).run(200);

    assertThat(bench.state.trip()).isPresent();
    assertThat(bench.free(InputLine.ARM_KEY).run(100).state.trip()).isEmpty();
  }

  /** A wire that is open twice with a long gap between was not seen off for all that while. */
  @Test
  void takesAKeySeenBeforeAndAfterALateScanForNoTurn() {
    Bench bench = stopped().set(InputLine.ARM_KEY, false).scan();
    lateBy(bench, 60);
    bench.free(InputLine.ARM_KEY).run(500);
    assertThat(bench.state.trip()).as("off seen in two scans 65 ms apart").isPresent();

    bench.set(InputLine.ARM_KEY, false).run(200).free(InputLine.ARM_KEY).scan();
    for (int i = 0; i < 20; i++) {
      lateBy(bench, 60);
    }
    assertThat(bench.state.trip()).as("on seen in late scans alone").isPresent();
    assertThat(bench.run(70).state.trip()).isEmpty();
  }

  private static void lateBy(Bench bench, long milliseconds) {
    bench.pass(milliseconds * Bench.MS);
    bench.lateNs = milliseconds * Bench.MS;
    bench.scan();
    bench.lateNs = 0;
  }

  @Test
  void doesNotResetWhileTheCauseIsThere() {
    Bench bench = Bench.ready().set(InputLine.STOP_LOOP, false).run(100);
    turnKey(bench, 500, 500);

    assertThat(bench.state.trip()).isPresent();
  }

  @Test
  void wantsTheKeyTurnedAfterTheCauseHasGoneAndNotBefore() {
    Bench bench = Bench.ready().set(InputLine.STOP_LOOP, false).run(100);
    bench.set(InputLine.ARM_KEY, false).run(500).free(InputLine.ARM_KEY).run(500);
    bench.free(InputLine.STOP_LOOP).run(5_000);

    assertThat(bench.state.trip()).isPresent();
    assertThat(turnKey(bench, 200, 200).state.trip()).isEmpty();
  }

  @Test
  void beginsAnewWhenTheCauseComesBackBetweenOffAndOn() {
    Bench bench = stopped().set(InputLine.ARM_KEY, false).run(200);
    bench.set(InputLine.STOP_LOOP, false).scan().free(InputLine.STOP_LOOP);
    bench.free(InputLine.ARM_KEY).run(1_000);

    assertThat(bench.state.trip()).isPresent();
  }

  @Test
  void doesNotResetBeforeTheBankHasBled() {
    Bench bench = Bench.holding(45).set(InputLine.ARM_KEY, false).scan().drive();
    bench.bankRule = java.util.Optional.of(volts -> 45);
    bench.run(200).free(InputLine.ARM_KEY).run(200);
    turnKey(bench, 200, 200);

    assertThat(bench.state.trip()).isPresent();
  }

  @Test
  void keepsTheFirstCause() {
    Bench bench = stopped().set(InputLine.STOP_LOOP, false).run(100);

    assertThat(bench.state.trip().orElseThrow().cause()).isEqualTo(TripCause.STOP_ASKED);
    assertThat(bench.state.present(TripCause.STOP_LOOP_OPEN)).isTrue();
    assertThat(bench.state.present(TripCause.STOP_ASKED)).isFalse();
  }

  @Test
  void tellsATripAndAResetOnceEach() {
    Bench bench = Bench.ready();
    bench.stopAsked = true;
    int tripped = bench.scan().last.tripped().isPresent() ? 1 : 0;
    for (int i = 0; i < 100; i++) {
      tripped += bench.scan().last.tripped().isPresent() ? 1 : 0;
    }
    bench.stopAsked = false;
    turnKey(bench, 200, 2_000);

    assertThat(tripped).isEqualTo(1);
    assertThat(bench.resets).hasSize(1);
  }

  @Test
  void standsAfterARestartThatFollowedATrip() {
    Bench bench = new Bench();
    bench.state = InterlockState.powerOn(new Trip(TripCause.BANK_RISING, "", 0));
    bench.set(InputLine.LID_A, false).set(InputLine.LID_B, false).run(100);
    bench.free(InputLine.LID_A).free(InputLine.LID_B).run(10_000);

    assertThat(bench.state.trip().orElseThrow().cause()).isEqualTo(TripCause.BANK_RISING);
    assertThat(turnKey(bench, 200, 200).state.trip()).isEmpty();
  }

  @ParameterizedTest
  @EnumSource(TripCause.class)
  void allowsNothingButSignalsWhileATripOfAnyCauseStands(TripCause cause) {
    Bench bench = new Bench();
    bench.state = InterlockState.powerOn(new Trip(cause, "", 0));
    bench.set(InputLine.LID_A, false).set(InputLine.LID_B, false).run(100);
    bench.free(InputLine.LID_A).free(InputLine.LID_B).run(1_000);

    assertThat(bench.last.permission().allowed().lines())
        .containsExactly(
            OutputLine.LAMP_READY,
            OutputLine.LAMP_BUSY,
            OutputLine.LAMP_ACCEPT,
            OutputLine.LAMP_REFUSE,
            OutputLine.BUZZER);
    assertThat(bench.last.permission().permit()).isFalse();
    assertThat(bench.state.says())
        .filteredOn(InterlockSaying::latched)
        .extracting(InterlockSaying::cause)
        .containsExactly(cause);
  }
}
