package lodestep.interlock;

import static lodestep.port.OutputLine.JIG_ENABLE;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.port.OutputLine;
import lodestep.protocol.HeadFlag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** Goal: what is judged of a jig with a travel of 78 mm, parked at 2 mm, at each limit. */
class JigWatchTest {

  private static final long MS = Look.MS;
  private static final Figures JIG = Figures.of(Bench.JIG);

  /** A line at this time and place, the driver off. */
  private static Look at(long milliseconds, int microMetres) {
    Look look = new Look(JIG, milliseconds * MS);
    look.positionMicroMetres = microMetres;
    return look;
  }

  private static Look moving(long milliseconds, int microMetres) {
    Look look = at(milliseconds, microMetres).driven(JIG_ENABLE);
    look.jigSinceNs = 0;
    return look;
  }

  /** Of a jig that stands at its park position, proven. */
  private static JigWatch parked() {
    return JigWatch.POWER_ON.step(at(0, 2_000).seen());
  }

  private static JigWatch with(JigWatch from, Persisting wrong, boolean doubted) {
    return new JigWatch(
        from.bootId(),
        from.positionMicroMetres(),
        from.stood(),
        from.restMicroMetres(),
        from.moved(),
        from.pathMicroMetres(),
        from.homed(),
        doubted,
        Persisting.NONE,
        from.farClosed(),
        from.leftAtMicroMetres(),
        from.wrongWay(),
        from.lost(),
        wrong);
  }

  @Test
  void allowsTwiceTheTravelAndATenthMoreAndItsHoming() {
    assertThat(Figures.of(Bench.JIG).jig())
        .isEqualTo(new JigFigures(true, 2_000, 78_000, 171_600 + 10_000, 85_800 + 1_900));
    assertThat(JigFigures.of(Optional.empty()).present()).isFalse();
  }

  // Standing still.

  @Test
  void hasMovedWhenItStandsElsewhereThanItStood() {
    JigWatch stood = parked().step(at(10, 2_000).seen());
    assertThat(stood.stood()).isTrue();

    JigWatch creeps = stood.step(at(20, 2_020).seen());
    assertThat(creeps.moved()).isFalse();
    assertThat(creeps.restMicroMetres()).isEqualTo(2_000);
    JigWatch moved = creeps.step(at(30, 2_021).seen());
    assertThat(moved.moved()).isTrue();
    assertThat(moved.restMicroMetres()).isEqualTo(2_021);
    assertThat(creeps.step(at(30, 1_979).seen()).moved()).isTrue();
  }

  /**
   * A line that was sent within a tenth of a second of the driver's end may tell of its run-out.
   */
  @Test
  void standsATenthOfASecondAfterTheDriverWasSwitchedOff() {
    Look early = at(100, 2_000);
    early.jigSinceNs = 0;
    Look late = at(101, 2_000);
    late.jigSinceNs = 0;
    Look delayed = at(110, 2_000);
    delayed.jigSinceNs = 0;
    delayed.ageNs = 10 * MS;

    assertThat(parked().step(early.seen()).stood()).isFalse();
    assertThat(parked().step(late.seen()).stood()).isTrue();
    assertThat(parked().step(delayed.seen()).stood()).isFalse();
    assertThat(parked().step(moving(200, 2_000).seen()).stood()).isFalse();
  }

  @Test
  void restsWhereItIsUntilItStands() {
    Look first = at(50, 2_500);
    first.jigSinceNs = 0;
    JigWatch runsOut = parked().step(first.seen());

    assertThat(runsOut.restMicroMetres()).isEqualTo(2_500);
    JigWatch stands = runsOut.step(at(150, 2_600).seen());
    assertThat(stands.restMicroMetres()).isEqualTo(2_600);
    assertThat(stands.moved()).isFalse();
  }

  @Test
  void beginsAnewWithEachRunOfTheHead() {
    JigWatch stood = parked().step(at(10, 2_000).seen());
    Look other = at(20, 5_000);
    other.bootId = 18;

    JigWatch next = stood.step(other.seen());

    assertThat(next.moved()).isFalse();
    assertThat(next.stood()).isFalse();
    assertThat(next.restMicroMetres()).isEqualTo(5_000);
  }

  // Without a new line.

  @Test
  void saysOnceWhatALineShowed() {
    JigWatch stood = parked().step(at(10, 2_000).seen());
    JigWatch moved = stood.step(at(20, 3_000).seen());
    JigWatch lost = stood.step(at(20, 2_000).silentOn(HeadFlag.HOMED).seen());
    JigWatch onTheWay = parked().step(moving(10, 2_500).seen());

    assertThat(moved.step(at(25, 3_000).old().seen()).moved()).isFalse();
    assertThat(lost.lost()).isTrue();
    assertThat(lost.step(at(25, 2_000).old().seen()).lost()).isFalse();
    assertThat(onTheWay.pathMicroMetres()).isEqualTo(500);
    assertThat(onTheWay.step(moving(15, 2_500).old().seen())).isEqualTo(onTheWay);
    assertThat(onTheWay.step(at(15, 2_500).old().seen()).pathMicroMetres()).isZero();
  }

  @Test
  void saysOnceThatItGoesTheWrongWay() {
    JigWatch seeking = parked().step(moving(10, 40_000).silentOn(HeadFlag.HOMED).seen());
    JigWatch wrong =
        seeking.step(moving(20, 39_500).silentOn(HeadFlag.HOMED, HeadFlag.JIG_FAR).seen());

    assertThat(wrong.wrongWay()).isTrue();
    assertThat(wrong.leftAtMicroMetres()).isEqualTo(39_500);
    JigWatch silent = wrong.step(moving(25, 39_500).old().seen());
    assertThat(silent.wrongWay()).isFalse();
    assertThat(silent.leftAtMicroMetres()).isEqualTo(39_500);
  }

  @ParameterizedTest
  @CsvSource({"37600, false", "37599, true", "41400, false", "41401, true"})
  void mustLeaveAnOpenSwitchWithinItsWay(int microMetres, boolean wrong) {
    JigWatch left =
        parked().step(moving(10, 39_500).silentOn(HeadFlag.HOMED, HeadFlag.JIG_HOME).seen());

    assertThat(
            left.step(moving(20, microMetres).silentOn(HeadFlag.HOMED, HeadFlag.JIG_HOME).seen())
                .wrongWay())
        .isEqualTo(wrong);
  }

  // Doubting the count.

  private static final Persisting HOME_WRONG = new Persisting(2, 0);

  /** An open home switch so far from home. */
  private static Look homeOpen(long milliseconds, int microMetres) {
    return moving(milliseconds, microMetres).silentOn(HeadFlag.JIG_HOME);
  }

  /** Without a line of the head too: what is left then is left from where the next drive begins. */
  @Test
  void forgetsWhereAnOpenSwitchWasLeftWhenTheDriverIsOff() {
    JigWatch left = parked().step(moving(10, 0).silentOn(HeadFlag.HOMED, HeadFlag.JIG_HOME).seen());
    JigWatch off = left.step(at(20, 0).old().seen());
    JigWatch again = off.step(moving(30, 1_000).silentOn(HeadFlag.HOMED, HeadFlag.JIG_HOME).seen());

    assertThat(left.leftAtMicroMetres()).isZero();
    assertThat(off.leftAtMicroMetres()).isEqualTo(JigWatch.POWER_ON.leftAtMicroMetres());
    assertThat(again.leftAtMicroMetres()).isEqualTo(1_000);
  }

  @Test
  void doubtsTheCountWhenASwitchContradictsItForLongEnough() {
    JigWatch from = with(parked(), HOME_WRONG, false);

    assertThat(from.step(homeOpen(50, 9_000).seen()).doubted()).isFalse();
    assertThat(from.step(homeOpen(51, 9_000).seen()).doubted()).isTrue();
    assertThat(from.step(homeOpen(51, 9_000).silentOn(HeadFlag.HOMED).seen()).doubted()).isFalse();
  }

  /** Two open switches contradict one another, and say nothing of the count. */
  @Test
  void doesNotDoubtTheCountForSwitchesThatContradictOneAnother() {
    JigWatch from = with(parked(), new Persisting(1, 0), false);

    assertThat(from.step(moving(60, 9_000).seen()).doubted()).isFalse();
  }

  /** The head held its count for proven all the while, so nothing leaps. */
  @Test
  void countsTheWayOnWhereADoubtEnds() {
    JigWatch doubted =
        with(parked().step(moving(10, 2_500).seen()), HOME_WRONG, false)
            .step(homeOpen(60, 3_000).seen());
    assertThat(doubted.doubted()).isTrue();
    assertThat(doubted.homed()).isFalse();

    JigWatch found = doubted.step(homeOpen(70, 50).seen());

    assertThat(found.homed()).isTrue();
    assertThat(found.pathMicroMetres()).isEqualTo(500 + 500 + 2_950);
  }

  @Test
  void believesItAgainAtHomeAndWhereTheSwitchesFitAtRest() {
    JigWatch doubted = with(parked(), HOME_WRONG, true);

    assertThat(doubted.step(homeOpen(60, 101).seen()).doubted()).isTrue();
    assertThat(doubted.step(homeOpen(60, 100).seen()).doubted()).isFalse();
    assertThat(doubted.step(homeOpen(60, -100).seen()).doubted()).isFalse();
    assertThat(doubted.step(homeOpen(60, -101).seen()).doubted()).isTrue();
    // The place alone is no proof, nor is a switch that fits on the way.
    assertThat(doubted.step(moving(60, 50).seen()).doubted()).isTrue();
    JigWatch fits = doubted.step(at(60, 2_000).seen());
    assertThat(fits.step(at(260, 2_000).seen()).doubted()).isTrue();
    assertThat(fits.step(at(261, 2_000).seen()).doubted()).isFalse();
    JigWatch bounced = fits.step(homeOpen(160, 2_000).seen()).step(at(170, 2_000).seen());
    assertThat(bounced.step(at(261, 2_000).seen()).doubted()).isTrue();
    assertThat(doubted.step(at(60, 9_000).silentOn(HeadFlag.JIG_HOME).seen()).doubted()).isTrue();
  }

  @ParameterizedTest
  @CsvSource({"500, true, 0", "501, true, 2", "-500, false, 0", "-501, false, 2"})
  void wantsTheHomeSwitchToFitTheCount(int microMetres, boolean open, int bits) {
    Look look = open ? homeOpen(10, microMetres) : moving(10, microMetres);

    assertThat(parked().step(look.seen()).wrong().bits()).isEqualTo(bits);
  }

  @ParameterizedTest
  @CsvSource({"75000, true, 0", "74999, true, 4", "81000, false, 0", "81001, false, 4"})
  void wantsTheFarSwitchToFitTheCount(int microMetres, boolean open, int bits) {
    Look look = moving(10, microMetres);
    if (open) {
      look.silentOn(HeadFlag.JIG_FAR);
    }

    assertThat(parked().step(look.seen()).wrong().bits()).isEqualTo(bits);
  }

  // Parked.

  @ParameterizedTest
  @CsvSource({"1950, true", "1949, false", "2050, true", "2051, false"})
  void isParkedWithinTheRoundingOfItsSteps(int microMetres, boolean parked) {
    assertThat(parked().parked(at(10, microMetres).seen())).isEqualTo(parked);
  }

  @ParameterizedTest
  @EnumSource(
      names = {"HOMED", "JIG_HOME", "JIG_FAR"},
      value = HeadFlag.class)
  void isNotParkedWithoutItsSigns(HeadFlag flag) {
    assertThat(parked().parked(at(10, 2_000).silentOn(flag).seen())).isFalse();
    assertThat(with(parked(), Persisting.NONE, true).parked(at(10, 2_000).seen())).isFalse();
    assertThat(parked().parked(moving(10, 2_000).seen())).isFalse();
    assertThat(parked().parked(Look.at(10).driven(OutputLine.JIG_ENABLE).seen())).isTrue();
  }
}
