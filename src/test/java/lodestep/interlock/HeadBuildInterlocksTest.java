package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.port.TripCause;
import lodestep.protocol.HeadFrame;
import org.junit.jupiter.api.Test;

/** A head that was built with other figures than rig.toml has is not used. */
class HeadBuildInterlocksTest {

  @Test
  @Provokes(TripCause.HEAD_NOT_FIT)
  void tripsOnAHeadBuiltWithAnotherScrewAndNamesBothFigures() {
    Bench bench = new Bench(Bench.JIG);
    bench.build = Builds.withScrew(bench.build, 800, 70_500);
    bench.run(20);

    assertThat(bench.tripped()).contains(TripCause.HEAD_NOT_FIT);
    assertThat(bench.firstTrip.orElseThrow().detail())
        .isEqualTo(
            "it was built for another rig than rig.toml's: steps_per_turn 800 and not 1600, travel"
                + " 70.5 mm and not 78 mm");
  }

  @Test
  @Provokes(TripCause.HEAD_NOT_FIT)
  void tripsOnAHeadThatWouldLetTheCoilGetHotter() {
    Bench bench = new Bench();
    bench.build = Builds.withHottest(bench.build, 7_001);
    bench.run(20);

    assertThat(bench.tripped()).contains(TripCause.HEAD_NOT_FIT);
    assertThat(bench.firstTrip.orElseThrow().detail())
        .contains("highest_temperature 70.01 \u00b0C and not 70 \u00b0C");
  }

  @Test
  @Provokes(TripCause.HEAD_NOT_FIT)
  void permitsNothingAndThenTripsWhenTheHeadDoesNotSayWhatItWasBuiltWith() {
    Bench bench = new Bench();
    bench.saysBuild = false;
    bench.scanToLine().run(IdentityWatch.HELLO_WAIT_NS / Bench.MS);

    assertThat(bench.tripped()).isEmpty();
    assertThat(bench.state.row().met(Condition.HEAD_KNOWN)).isFalse();
    assertThat(bench.state.headHasSaidWho()).isFalse();
    bench.run(15);
    assertThat(bench.tripped()).contains(TripCause.HEAD_NOT_FIT);
    assertThat(bench.firstTrip.orElseThrow().detail()).contains("does not say what it was built");
  }

  /**
   * A screw of 2 mm at 8 mm/s, 1600 steps a turn, 78 mm of way, a coil that may have 70 degrees.
   */
  @Test
  void wantsTheFiguresOfTheRigInTheHeadsUnits() {
    HeadFrame.Build wanted = HeadBuild.of(Bench.JIG).wanted();

    assertThat(wanted.pitchNanoMetres()).isEqualTo(2_000_000);
    assertThat(wanted.stepsPerTurn()).isEqualTo(1_600);
    assertThat(wanted.travelMicroMetres()).isEqualTo(78_000);
    assertThat(wanted.microMetresPerSecond()).isEqualTo(8_000);
    assertThat(wanted.windowMillis()).isEqualTo(300);
    assertThat(wanted.coilCentiDegCMax()).isEqualTo(7_000);
    assertThat(HeadBuild.of(Bench.SETTINGS).wanted().pitchNanoMetres()).isZero();
  }
}
