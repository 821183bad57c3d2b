package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The jig moves when it may, as far as it may, and its switches fit its position. */
class JigInterlocksTest {

  private static Bench parked() {
    return Bench.ready(Bench.JIG).run(300);
  }

  /** On the way, by so much a line. */
  private static Bench moved(Bench bench, int lines, int microMetresALine) {
    for (int i = 0; i < lines; i++) {
      bench.positionMicroMetres += microMetresALine;
      bench.scanToLine();
    }
    return bench;
  }

  @Test
  void allowsMotionOnlyWithEverythingInOrder() {
    Bench bench = parked();

    assertThat(bench.allows(OutputLine.JIG_ENABLE)).isTrue();
    assertThat(bench.set(HeadFlag.PERMIT, false).run(50).allows(OutputLine.JIG_ENABLE)).isFalse();
  }

  @Test
  void neverAllowsMotionOnARigWithoutAJig() {
    Bench bench = Bench.ready();

    assertThat(bench.allows(OutputLine.JIG_ENABLE)).isFalse();
    assertThat(bench.allows(OutputLine.BANK_HOLD)).isTrue();
  }

  @Test
  void allowsNoFillingWhileTheJigIsAway() {
    Bench bench = parked();
    boolean before = bench.allows(OutputLine.BANK_HOLD);
    bench.drive(OutputLine.JIG_ENABLE);
    moved(bench, 5, 80).drive().run(300);

    assertThat(before).isTrue();
    assertThat(bench.allows(OutputLine.BANK_HOLD)).isFalse();
    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  void allowsNoFillingWithAPositionThatIsNotProven() {
    Bench bench = new Bench(Bench.JIG).set(HeadFlag.HOMED, false).madeReady().run(300);

    assertThat(bench.allows(OutputLine.BANK_HOLD)).isFalse();
    assertThat(bench.allows(OutputLine.JIG_ENABLE)).isTrue();
  }

  @Test
  @Provokes(TripCause.LID_OPENED)
  void tripsWhenTheLidOpensWhileItMoves() {
    Bench bench = parked().drive(OutputLine.JIG_ENABLE).run(50);
    bench.set(InputLine.LID_A, false).scan();

    assertThat(bench.tripped()).contains(TripCause.LID_OPENED);
    assertThat(bench.allows(OutputLine.JIG_ENABLE)).isFalse();
  }

  private static Bench notHomed() {
    return new Bench(Bench.JIG)
        .set(HeadFlag.HOMED, false)
        .madeReady()
        .run(300)
        .drive(OutputLine.JIG_ENABLE)
        .run(50);
  }

  @Test
  @Provokes(TripCause.JIG_WRONG_WAY)
  void tripsWhenItIsSentHomeAndComesToItsFarEnd() {
    Bench bench = moved(notHomed(), 20, -50);
    bench.set(HeadFlag.JIG_FAR, false);
    moved(bench, 1, -50);

    assertThat(bench.tripped()).contains(TripCause.JIG_WRONG_WAY);
    assertThat(bench.firstTrip.orElseThrow().detail()).contains("not proven", "far switch open");
    assertThat(bench.run(20).state.present(TripCause.JIG_WRONG_WAY)).isFalse();
  }

  /** A motor that does not turn: the head counts, no switch opens, and at last it gives up. */
  @Test
  @Provokes(TripCause.JIG_TRAVEL)
  void tripsWhenHomeIsNotFoundInATravelAndATenth() {
    Bench bench = moved(notHomed(), 877, -100);
    assertThat(bench.tripped()).isEmpty();

    assertThat(moved(bench, 1, -1).tripped()).contains(TripCause.JIG_TRAVEL);
  }

  @Test
  @Provokes(TripCause.JIG_WRONG_WAY)
  void tripsWhenItDoesNotLeaveAnOpenSwitchWithin2Millimetres() {
    Bench bench = notHomed().set(HeadFlag.JIG_HOME, false);
    moved(bench, 1, 0);
    moved(bench, 19, 100);
    assertThat(bench.tripped()).isEmpty();

    assertThat(moved(bench, 1, 1).tripped()).contains(TripCause.JIG_WRONG_WAY);
  }

  /** Over home, back off it, up again; and off the far end, on which it was left. */
  @Test
  @Spares(TripCause.JIG_WRONG_WAY)
  void sparesAHomingFromEitherEnd() {
    Bench home = moved(notHomed().set(HeadFlag.JIG_HOME, false), 15, 100);
    moved(home.free(HeadFlag.JIG_HOME), 15, -100);
    moved(home.set(HeadFlag.JIG_HOME, false), 10, 20);
    Bench far = moved(notHomed().set(HeadFlag.JIG_FAR, false), 1, 0);
    moved(far, 15, -100);
    moved(far.free(HeadFlag.JIG_FAR), 100, -50);

    assertThat(home.tripped()).isEmpty();
    assertThat(far.tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.JIG_MOVED)
  void tripsWhenItMovesWithTheDriverOff() {
    Bench bench = parked();
    bench.positionMicroMetres += 21;

    assertThat(bench.run(30).tripped()).contains(TripCause.JIG_MOVED);
  }

  @Test
  @Spares(TripCause.JIG_MOVED)
  void bearsTheRoundingOfAStepAndTheLastLineOfAMove() {
    Bench bench = parked();
    bench.positionMicroMetres += 19;
    bench.run(200).drive(OutputLine.JIG_ENABLE);
    moved(bench, 10, 50).drive().run(40);
    bench.positionMicroMetres += 40;

    assertThat(bench.run(400).tripped()).isEmpty();
  }

  /** The line in which it moved is past: nothing keeps the key from clearing it. */
  @Test
  void holdsNothingAgainstAJigThatStandsStillAgain() {
    Bench bench = parked();
    bench.positionMicroMetres += 500;

    assertThat(bench.run(30).tripped()).contains(TripCause.JIG_MOVED);
    assertThat(bench.run(30).state.present(TripCause.JIG_MOVED)).isFalse();
  }

  /** The last lines before a cable was pulled say nothing of where the jig came to rest. */
  @Test
  void bearsAPositionThatIsNewAfterASilence() {
    Bench bench = parked().drive(OutputLine.JIG_ENABLE);
    moved(bench, 10, 80);
    bench.headSpeaks = false;
    bench.drive().run(1_000);
    bench.positionMicroMetres += 900;
    bench.headSpeaks = true;
    bench.run(100);

    assertThat(bench.state.present(TripCause.JIG_MOVED)).isFalse();
  }

  @Test
  @Provokes(TripCause.JIG_SWITCH_WRONG)
  void tripsWhenBothSwitchesAreOpen() {
    Bench bench = parked().set(HeadFlag.JIG_HOME, false).set(HeadFlag.JIG_FAR, false);

    assertThat(bench.run(100).tripped()).contains(TripCause.JIG_SWITCH_WRONG);
    assertThat(bench.allows(OutputLine.JIG_ENABLE)).isFalse();
  }

  @Test
  @Provokes(TripCause.JIG_SWITCH_WRONG)
  void tripsWhenTheHomeSwitchIsOpenFarFromHome() {
    Bench bench = parked().set(HeadFlag.JIG_HOME, false);

    assertThat(bench.run(100).tripped()).contains(TripCause.JIG_SWITCH_WRONG);
  }

  @Test
  @Spares(TripCause.JIG_SWITCH_WRONG)
  void bearsAHomeSwitchThatIsOpenAtHomeAndABounce() {
    Bench bench = parked().set(HeadFlag.JIG_HOME, false).run(40).free(HeadFlag.JIG_HOME).run(100);
    bench.drive(OutputLine.JIG_ENABLE);
    moved(bench, 20, -80);
    bench.set(HeadFlag.JIG_HOME, false);

    assertThat(bench.run(400).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.JIG_LOST)
  void tripsWhenTheHeadNoLongerHoldsItsPositionForProven() {
    Bench bench = parked().drive(OutputLine.JIG_ENABLE).run(50).set(HeadFlag.HOMED, false);

    assertThat(bench.run(20).tripped()).contains(TripCause.JIG_LOST);
  }

  @Test
  @Spares(TripCause.JIG_LOST)
  void bearsAPositionThatWasNotProvenYet() {
    Bench bench = Bench.ready(Bench.JIG);
    Bench unproven = new Bench(Bench.JIG).set(HeadFlag.HOMED, false).run(200);

    assertThat(bench.run(200).tripped()).isEmpty();
    assertThat(unproven.free(HeadFlag.HOMED).run(200).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.JIG_TRAVEL)
  void tripsWhenItMovesFurtherThanAStrokeMay() {
    Bench bench = new Bench(Bench.JIG).set(HeadFlag.HOMED, false).madeReady();
    bench.drive(OutputLine.JIG_ENABLE);

    assertThat(moved(bench, 2_300, -80).tripped()).contains(TripCause.JIG_TRAVEL);
  }

  @Test
  @Spares(TripCause.JIG_TRAVEL)
  void bearsAStrokeOfTheWholeTravelAndItsHoming() {
    Bench bench = parked().drive(OutputLine.JIG_ENABLE);
    moved(bench, 925, 80);
    moved(bench, 950, -80);

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.JIG_NOT_PARKED)
  void tripsWhenItIsAwayWithTheBankHeld() {
    Bench bench = parked().fill(20).run(100);
    assertThat(bench.tripped()).isEmpty();
    bench.positionMicroMetres += 60;

    assertThat(bench.run(20).tripped()).contains(TripCause.JIG_MOVED);
    assertThat(bench.state.present(TripCause.JIG_NOT_PARKED)).isTrue();
  }

  @Test
  @Spares(TripCause.JIG_NOT_PARKED)
  void bearsTheBankHeldWithTheJigWithinAFewSteps() {
    Bench bench = parked();
    bench.drive(OutputLine.JIG_ENABLE);
    moved(bench, 1, 40).drive().run(200);

    assertThat(bench.fill(20).run(300).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.BANK_OVER_VOLTAGE)
  void tripsWhenARigWithoutABankShowsOne() {
    Bench bench = Bench.ready(Bench.JIG_ONLY);
    bench.bankRule = Optional.of(volts -> 10.1);

    assertThat(bench.run(50).tripped()).contains(TripCause.BANK_OVER_VOLTAGE);
  }

  @Test
  @Spares(TripCause.BANK_OVER_VOLTAGE)
  void movesOnARigWithoutABankOrItsContacts() {
    Bench bench = Bench.ready(Bench.JIG_ONLY).run(300);

    assertThat(bench.tripped()).isEmpty();
    assertThat(bench.allows(OutputLine.JIG_ENABLE)).isTrue();
  }

  /** Its switches at the last place where each still fits, and a micrometre further. */
  @ParameterizedTest
  @CsvSource({
    "500,     JIG_HOME, false",
    "501,     JIG_HOME, true",
    "-500,            , false",
    "-501,            , true",
    "75000,   JIG_FAR,  false",
    "74999,   JIG_FAR,  true",
    "81000,           , false",
    "81001,           , true"
  })
  void tripsAsSoonAsASwitchDoesNotFitThePosition(
      int microMetres, @Nullable HeadFlag open, boolean trips) {
    Bench bench = parked().drive(OutputLine.JIG_ENABLE).run(20);
    bench.positionMicroMetres = microMetres;
    if (open != null) {
      bench.set(open, false);
    }
    bench.run(100);

    assertThat(bench.tripped().filter(TripCause.JIG_SWITCH_WRONG::equals).isPresent())
        .isEqualTo(trips);
    assertThat(bench.tripped().isPresent()).isEqualTo(trips);
  }

  @Test
  void tripsWhenBothSwitchesAreOpenAndThePositionIsNotProven() {
    Bench bench = notHomed().set(HeadFlag.JIG_HOME, false).set(HeadFlag.JIG_FAR, false);

    assertThat(bench.run(100).tripped()).contains(TripCause.JIG_SWITCH_WRONG);
  }

  @ParameterizedTest
  @CsvSource({"0, JIG_HOME", "78000, JIG_FAR"})
  void movesOffASwitchThatIsOpen(int microMetres, HeadFlag open) {
    Bench bench = parked().drive(OutputLine.JIG_ENABLE).run(20);
    bench.positionMicroMetres = microMetres;

    assertThat(bench.set(open, false).run(100).allows(OutputLine.JIG_ENABLE)).isTrue();
  }

  @ParameterizedTest
  @CsvSource({"50, true", "51, false", "-50, true", "-51, false"})
  void countsAsParkedUpToAFewSteps(int microMetres, boolean fills) {
    Bench bench = parked().drive(OutputLine.JIG_ENABLE);

    assertThat(moved(bench, 1, microMetres).drive().run(300).allows(OutputLine.BANK_HOLD))
        .isEqualTo(fills);
  }

  @Test
  void bearsExactlyTheRoundingOfAStepInOneLine() {
    Bench bench = parked();
    bench.positionMicroMetres += 20;

    assertThat(bench.run(30).tripped()).isEmpty();
  }

  /** The driver is off for one scan, in which no line comes. */
  @Test
  void countsAWayAnewFromEachSwitchingOnOfTheDriver() {
    Bench bench = parked().drive(OutputLine.JIG_ENABLE);
    moved(bench, 770, 100);
    moved(bench, 770, -100).drive().scan().drive(OutputLine.JIG_ENABLE);
    moved(bench, 770, 100);
    moved(bench, 770, -100);

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  void countsTheWayOffAnOpenSwitchAnewFromEachSwitchingOnOfTheDriver() {
    Bench bench = moved(notHomed().set(HeadFlag.JIG_HOME, false), 15, 100);
    moved(bench.drive().scan().drive(OutputLine.JIG_ENABLE), 15, 100);

    assertThat(bench.tripped()).isEmpty();
  }
}
