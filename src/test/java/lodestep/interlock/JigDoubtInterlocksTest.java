package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import org.junit.jupiter.api.Test;

/** A count of the jig that cannot be right keeps no rig from working for good. */
class JigDoubtInterlocksTest {

  /** On the way, by so much a line. */
  private static Bench moved(Bench bench, int lines, int microMetresALine) {
    for (int i = 0; i < lines; i++) {
      bench.positionMicroMetres += microMetresALine;
      bench.scanToLine();
    }
    return bench;
  }

  /** The carriage has not left home, and its count has: only on the way home can that be found. */
  private static Bench leftBehind() {
    Bench bench = Bench.ready(Bench.JIG).run(300).drive(OutputLine.JIG_ENABLE).run(20);
    bench.set(HeadFlag.JIG_HOME, false).run(100).drive().run(100);
    assertThat(bench.tripped()).contains(TripCause.JIG_SWITCH_WRONG);
    bench.set(InputLine.ARM_KEY, false).run(100).free(InputLine.ARM_KEY).run(300);
    return bench;
  }

  /**
   * A clock that is read never shows whole milliseconds, so that the limit may pass in any scan.
   */
  @Test
  @Provokes(TripCause.JIG_SWITCH_WRONG)
  void tripsAlsoWhenTheLimitPassesWithALine() {
    Bench bench = Bench.ready(Bench.JIG).run(300).drive(OutputLine.JIG_ENABLE).run(20).scanToLine();
    bench.set(HeadFlag.JIG_HOME, false);
    for (int scan = 0; scan < 30; scan++) {
      bench.nowNs += 1_000;
      bench.scan();
    }

    assertThat(bench.tripped()).contains(TripCause.JIG_SWITCH_WRONG);
  }

  @Test
  void canBeResetWhereTheCountCannotBeRight() {
    Bench bench = leftBehind();

    assertThat(bench.state.trip()).isEmpty();
    assertThat(bench.allows(OutputLine.JIG_ENABLE)).isTrue();
    assertThat(bench.allows(OutputLine.BANK_HOLD)).isFalse();
  }

  @Test
  void believesADoubtedCountAgainWhereItFindsHome() {
    Bench bench = leftBehind().drive(OutputLine.JIG_ENABLE);
    moved(bench, 19, -100);
    moved(bench, 1, -100).free(HeadFlag.JIG_HOME);
    moved(bench, 20, 100).drive().run(300);

    assertThat(bench.state.trip()).isEmpty();
    assertThat(bench.allows(OutputLine.BANK_HOLD)).isTrue();
  }

  @Test
  @Provokes(TripCause.JIG_LOST)
  void tripsAgainWhenTheHeadGivesADoubtedCountUp() {
    Bench bench = leftBehind().drive(OutputLine.JIG_ENABLE).run(50);
    bench.set(HeadFlag.HOMED, false).run(20);

    assertThat(bench.state.trip()).map(Trip::cause).contains(TripCause.JIG_LOST);
  }

  @Test
  @Provokes(TripCause.JIG_WRONG_WAY)
  void doesNotFollowADoubtedCountFurtherThan2Millimetres() {
    Bench bench = moved(leftBehind().drive(OutputLine.JIG_ENABLE), 21, 100);

    assertThat(bench.state.trip()).map(Trip::cause).contains(TripCause.JIG_WRONG_WAY);
  }

  @Test
  void believesTheCountAgainWhenTheSwitchIsMendedAtRest() {
    Bench bench = leftBehind().free(HeadFlag.JIG_HOME).run(300);

    assertThat(bench.allows(OutputLine.BANK_HOLD)).isTrue();
  }

  /** A contact that bounces shows itself as it should be in some lines, and in some not. */
  @Test
  void goesOnDoubtingWhileTheSwitchBouncesAtRest() {
    Bench bench = leftBehind();
    for (int i = 0; i < 20; i++) {
      bench.free(HeadFlag.JIG_HOME).run(i % 4 == 0 ? 190 : 30);
      bench.set(HeadFlag.JIG_HOME, false).run(20);
      bench.free(HeadFlag.JIG_HOME).run(10);
      assertThat(bench.allows(OutputLine.BANK_HOLD)).as("after %d", i).isFalse();
    }

    assertThat(bench.run(300).allows(OutputLine.BANK_HOLD)).isTrue();
  }

  /** After vain searches it stands far from nought, and begins there anew. */
  @Test
  @Spares(TripCause.JIG_TRAVEL)
  void takesTheLeapOfTheCountAtHomeForNoWay() {
    Bench bench =
        new Bench(Bench.JIG)
            .set(HeadFlag.HOMED, false)
            .madeReady()
            .run(300)
            .drive(OutputLine.JIG_ENABLE)
            .run(50);
    for (int search = 0; search < 3; search++) {
      moved(bench, 800, -100).drive().run(200).drive(OutputLine.JIG_ENABLE);
    }
    moved(bench, 100, -100).set(HeadFlag.JIG_HOME, false).set(HeadFlag.HOMED, true);
    bench.positionMicroMetres = 0;

    assertThat(bench.run(50).tripped()).isEmpty();
  }
}
