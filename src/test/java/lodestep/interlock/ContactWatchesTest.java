package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.interlock.Latch.Turn;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: lid, key and levels that must persist, at the moment their time has passed. */
class ContactWatchesTest {

  private static final long MS = Look.MS;

  private static Seen lid(long milliseconds, boolean a, boolean b) {
    return Look.at(milliseconds).contact(InputLine.LID_A, a).contact(InputLine.LID_B, b).seen();
  }

  @Test
  void takesEachLidContactForClosedAfterFiftyMilliseconds() {
    LidWatch open = LidWatch.POWER_ON.step(lid(1_000, false, false));
    LidWatch one = open.step(lid(1_010, true, false));
    LidWatch both = one.step(lid(1_030, true, true));

    assertThat(one.aClosed(1_060 * MS - 1)).isFalse();
    assertThat(one.aClosed(1_060 * MS)).isTrue();
    assertThat(one.bClosed(9_000 * MS)).isFalse();
    // The second contact's bounce is its own.
    assertThat(both.aClosed(1_060 * MS)).isTrue();
    assertThat(both.bClosed(1_080 * MS - 1)).isFalse();
    assertThat(both.bClosed(1_080 * MS)).isTrue();
    LidWatch opened = both.step(lid(2_000, true, false));
    assertThat(opened.aClosed(2_000 * MS)).isTrue();
    assertThat(opened.bClosed(2_000 * MS)).isFalse();
    LidWatch other = both.step(lid(2_000, false, true));
    assertThat(other.aClosed(2_000 * MS)).isFalse();
    assertThat(other.bClosed(2_000 * MS)).isTrue();
    assertThat(other.step(lid(2_010, true, true)).aClosed(2_059 * MS)).isFalse();
  }

  @Test
  void provesTheLidByItsOpeningForEightHours() {
    long hours = 8 * 3_600_000L;
    LidWatch proven = LidWatch.POWER_ON.step(lid(0, false, false)).step(lid(5, true, true));

    assertThat(LidWatch.POWER_ON.step(lid(0, true, true)).proven(lid(0, true, true))).isFalse();
    assertThat(LidWatch.POWER_ON.step(lid(0, true, false)).proven(lid(0, true, false))).isFalse();
    assertThat(proven.proven(lid(hours, true, true))).isTrue();
    assertThat(proven.proven(lid(hours + 1, true, true))).isFalse();
    assertThat(proven.proven(Look.at(hours + 1).driven(OutputLine.BANK_HOLD).seen())).isTrue();
  }

  @Test
  void bearsAContactApartForATravelOfTheLid() {
    LidWatch apart = LidWatch.POWER_ON.step(lid(0, true, false));

    assertThat(apart.causes(lid(200, true, false))).isZero();
    assertThat(apart.causes(lid(201, true, false)))
        .isEqualTo(Causes.bit(TripCause.LID_CONTACTS_DISAGREE));
  }

  private static Latch latch(Turn turn, long sinceMs) {
    return new Latch(Optional.of(new Trip(TripCause.LID_OPENED, "", 0)), turn, sinceMs * MS);
  }

  /** What follows at 1,000 ms: with the key in its place since 950 ms it is steady, at 951 not. */
  @ParameterizedTest
  @CsvSource({
    "WAITING, 0, true, WAITING",
    "WAITING, 0, false, GOING_OFF",
    "GOING_OFF, 950, true, WAITING",
    "GOING_OFF, 951, false, GOING_OFF",
    "GOING_OFF, 950, false, OFF",
    "OFF, 999, false, OFF",
    "OFF, 999, true, GOING_ON",
    "GOING_ON, 950, false, OFF",
    "GOING_ON, 951, true, GOING_ON"
  })
  void turnsWithTheKeyOnceItIsSteady(Turn turn, long sinceMs, boolean keyOn, Turn next) {
    Latch stepped = latch(turn, sinceMs).step(false, keyOn, true, 1_000 * MS);

    assertThat(stepped.turn()).isEqualTo(next);
    assertThat(stepped.sinceNs()).isEqualTo(next == turn ? sinceMs * MS : 1_000 * MS);
  }

  @Test
  void isClearOnceTheKeyWasTurned() {
    assertThat(latch(Turn.GOING_ON, 950).step(false, true, true, 1_000 * MS))
        .isEqualTo(Latch.CLEAR);
    assertThat(latch(Turn.GOING_ON, 950).step(true, true, true, 1_000 * MS).turn())
        .isEqualTo(Turn.WAITING);
  }

  @ParameterizedTest
  @CsvSource({"WAITING, WAITING", "GOING_OFF, WAITING", "OFF, OFF", "GOING_ON, OFF"})
  void goesBackToItsLastPlaceInAScanThatMissedSomething(Turn turn, Turn next) {
    assertThat(latch(turn, 0).step(false, true, false, 1_000 * MS).turn()).isEqualTo(next);
  }

  @Test
  void keepsTheAgeOfWhatPersistsAndDropsTheRest() {
    Persisting both = new Persisting(3, 7);

    assertThat(both.step(3, 9)).isEqualTo(both);
    assertThat(both.step(7, 9)).isEqualTo(both);
    assertThat(both.step(1, 9)).isEqualTo(new Persisting(1, 7));
    assertThat(both.step(4, 9)).isEqualTo(new Persisting(4, 9));
    assertThat(both.step(0, 9)).isEqualTo(Persisting.NONE);
    assertThat(both.longerThan(2, 9)).isFalse();
    assertThat(both.longerThan(2, 10)).isTrue();
    assertThat(Persisting.NONE.longerThan(2, 10)).isFalse();
  }
}
