package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.config.ShippedRig;
import lodestep.port.OutputLine;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RefusalReason;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The head steps the jig as PROTOCOL.md says under "Jig". */
class HeadMotionTest {

  private static TestHost host(FaultPlan plan) {
    return new TestHost(ShippedRig.read("rig-virtual-jig.toml"), 11L, plan).permitted();
  }

  private static TestHost enabled(FaultPlan plan) {
    TestHost host = host(plan);
    host.raise(OutputLine.JIG_ENABLE);
    host.run(20);
    return host;
  }

  private static TestHost homed(FaultPlan plan) {
    TestHost host = enabled(plan);
    host.send(new HeadRequest.MoveTo(0));
    host.await(() -> host.has(HeadFlag.HOMED), 20_000);
    return host;
  }

  private static double trueMillimetres(TestHost host) {
    return host.rig.plant().carriage().orElseThrow().positionMetres() * 1e3;
  }

  @Test
  void refusesToMoveWithoutDriverPermitOrHome() {
    TestHost host = host(FaultPlan.NONE);
    host.send(new HeadRequest.MoveTo(0));
    host.run(30);
    assertThat(host.last(HeadFrame.Refused.class).reason()).isEqualTo(RefusalReason.NOT_SAFE);

    host.raise(OutputLine.JIG_ENABLE);
    host.run(20);
    host.send(new HeadRequest.MoveTo(5_000));
    host.run(30);
    assertThat(host.all(HeadFrame.Refused.class)).hasSize(2);

    host.permit = false;
    host.run(50);
    host.send(new HeadRequest.MoveTo(0));
    host.run(30);
    assertThat(host.last(HeadFrame.Refused.class).reason()).isEqualTo(RefusalReason.NO_PERMIT);
    assertThat(host.status().positionMicroMetres()).isZero();
  }

  @Test
  void findsHomeWithinAFewHundredthsAndCountsFromThere() {
    TestHost host = homed(FaultPlan.NONE);

    assertThat(host.has(HeadFlag.JIG_HOME)).isFalse();
    assertThat(trueMillimetres(host)).isCloseTo(0, within(0.02));
    host.send(new HeadRequest.MoveTo(12_345));
    host.await(() -> host.status().positionMicroMetres() >= 12_344, 5_000);
    host.run(50);
    assertThat(trueMillimetres(host)).isCloseTo(12.345, within(0.02));
  }

  /**
   * At each flicker the search for home backs off and creeps; it goes on to where it stays open.
   */
  @Test
  void takesAFlickeringSwitchForNoHome() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.JigSwitchFlickers(true), TestHost.atMs(0));
    TestHost host = homed(plan);

    assertThat(trueMillimetres(host)).isCloseTo(0, within(0.02));
  }

  @Test
  void takesASwitchThatOpensTwiceForAMomentForNoHome() {
    FaultPlan plan = FaultPlan.NONE;
    for (long ms : new long[] {700, 712}) {
      plan =
          plan.with(
              new Fault.JigSwitchStuck(true, false), TestHost.atMs(ms), TestHost.atMs(ms + 5));
    }
    TestHost host = homed(plan);

    assertThat(trueMillimetres(host)).isCloseTo(0, within(0.02));
    assertThat(host.status().positionMicroMetres()).isCloseTo(0, within(12));
  }

  @Test
  void stopsAtOnceWhenTheLidOpensAndDoesNotGoOn() {
    TestHost host = homed(FaultPlan.NONE);
    host.send(new HeadRequest.MoveTo(40_000));
    host.run(1_000);
    host.rig.controls().lidContactA(false);
    host.run(30);
    double there = trueMillimetres(host);
    host.rig.controls().lidContactA(true);
    host.permit = false;
    host.run(200);
    host.permit = true;
    host.run(1_000);

    assertThat(there).isBetween(5.0, 9.0);
    assertThat(trueMillimetres(host)).isCloseTo(there, within(1e-6));
    assertThat(host.has(HeadFlag.HOMED)).isTrue();
  }

  @Test
  void stopsWhenTheHeartbeatsStayAway() {
    TestHost host = homed(FaultPlan.NONE);
    host.send(new HeadRequest.MoveTo(60_000));
    host.run(500);
    double before = trueMillimetres(host);
    host.heartbeats = false;
    host.run(3_000);

    assertThat(trueMillimetres(host) - before).isLessThan(8 * 0.26);
  }

  @Test
  void stopsAtTheFarSwitch() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.JigStepsLost(0.02), TestHost.atMs(0));
    TestHost host = homed(plan);
    host.send(new HeadRequest.MoveTo(78_000));
    host.run(12_000);
    double lagging = trueMillimetres(host);
    host =
        homed(FaultPlan.NONE.with(new Fault.JigSwitchStuck(false, false), TestHost.atMs(30_000)));
    host.await(new Until(host, 29_000)::come, 40_000);
    host.send(new HeadRequest.MoveTo(60_000));
    host.run(8_000);

    assertThat(lagging).isLessThan(78.05);
    assertThat(host.has(HeadFlag.JIG_FAR)).isFalse();
    assertThat(trueMillimetres(host)).as("a second on its way").isBetween(6.0, 9.0);
  }

  private record Until(TestHost host, long ms) {
    boolean come() {
      return host.rig.clock().nowNs() >= TestHost.atMs(ms);
    }
  }

  @Test
  void goesNowhereBeyondItsTravel() {
    TestHost host = homed(FaultPlan.NONE);
    host.send(new HeadRequest.MoveTo(78_001));
    host.run(30);
    host.send(new HeadRequest.MoveTo(-1));
    host.run(500);

    assertThat(host.all(HeadFrame.Refused.class)).hasSize(2);
    assertThat(trueMillimetres(host)).isCloseTo(0, within(0.02));
  }

  /** M3: where a switch has to change, it has 2 mm for it. */
  @Test
  void stopsWithin2MillimetresWhenItDoesNotLeaveTheHomeSwitch() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.JigReversed(), TestHost.atMs(30_000));
    TestHost host = homed(plan);
    host.permit = false;
    host.await(new Until(host, 30_000)::come, 40_000);
    host.permit = true;
    host.run(200);
    int from = host.status().positionMicroMetres();
    host.send(new HeadRequest.MoveTo(0));
    host.run(5_000);

    assertThat(host.status().positionMicroMetres() - from).isBetween(1_990, 2_010);
    assertThat(host.has(HeadFlag.JIG_HOME)).isFalse();
    assertThat(trueMillimetres(host)).as("against the hard stop").isBetween(-1.51, 0.0);
  }

  /** M3: with both switches closed nothing shows the way until one opens; it is slow so long. */
  @Test
  void creepsWhileTheWayIsNotKnownAndStopsAtTheFarSwitchWhenItIsTheWrongOne() {
    TestHost host = enabled(FaultPlan.NONE.with(new Fault.JigReversed(), 0));
    double before = trueMillimetres(host);
    host.send(new HeadRequest.MoveTo(0));
    double fastest = 0;
    while (host.has(HeadFlag.JIG_FAR)) {
      double was = trueMillimetres(host);
      host.run(100);
      fastest = Math.max(fastest, Math.abs(trueMillimetres(host) - was) / 0.1);
    }
    host.run(2_000);

    assertThat(before).isBetween(2.0, 14.0);
    assertThat(fastest).isBetween(4.9, 5.01);
    assertThat(trueMillimetres(host)).isBetween(77.99, 78.02);
    assertThat(host.has(HeadFlag.HOMED)).isFalse();
  }

  @Test
  void lowersHomedWhenStepsWereLost() {
    long fromNs = TestHost.atMs(30_000);
    FaultPlan plan =
        FaultPlan.NONE.with(new Fault.JigStepsLost(0.05), fromNs, fromNs + 2_000_000_000L);
    TestHost host = homed(plan);
    host.await(() -> host.rig.clock().nowNs() >= fromNs, 40_000);
    host.send(new HeadRequest.MoveTo(40_000));
    host.run(6_000);
    host.send(new HeadRequest.MoveTo(0));

    host.await(() -> !host.has(HeadFlag.HOMED), 20_000);
    assertThat(host.status().positionMicroMetres()).isGreaterThan(100);
    host.send(new HeadRequest.MoveTo(0));
    host.await(() -> host.has(HeadFlag.HOMED), 20_000);
    assertThat(trueMillimetres(host)).isCloseTo(0, within(0.02));
  }

  @Test
  void movesNothingOnARigWithoutAJig() {
    TestHost host = new TestHost(FaultPlan.NONE).permitted();
    host.raise(OutputLine.JIG_ENABLE);
    host.send(new HeadRequest.MoveTo(0));
    host.run(30);

    assertThat(host.last(HeadFrame.Refused.class).reason()).isEqualTo(RefusalReason.NOT_SAFE);
  }

  /**
   * The work feels the largest opposing field, and what the jig takes away it does not give back.
   */
  @Test
  void opposesTheWorkByTheNearestGapAlone() {
    TestHost host = homed(FaultPlan.NONE);
    MarkedMagnet magnet = new MarkedMagnet(0.05);
    host.rig.controls().seat(magnet, new SplittableRandom(1));
    host.send(new HeadRequest.MoveTo(60_000));
    host.await(() -> host.status().positionMicroMetres() >= 59_999, 20_000);
    host.run(100);
    double most = magnet.pulses.get(magnet.pulses.size() - 1).reverse();
    int felt = magnet.pulses.size();
    host.send(new HeadRequest.MoveTo(2_000));
    host.run(10_000);

    assertThat(magnet.pulses).hasSize(felt).allSatisfy(p -> assertThat(p.forward()).isZero());
    HeldMagnet there = host.rig.plant().carriage().orElseThrow().over(15e-3);
    assertThat(most).isGreaterThan(10 * there.atWork());
  }

  /** A screw of 2 mm with 1600 steps a turn: 2 mm are 1600 steps. */
  @ParameterizedTest
  @ValueSource(ints = {1, 40, 700})
  void goesNoFurtherOnAnOpenSwitchHoweverOftenItIsAsked(int everyMs) {
    HeadMotion motion =
        new HeadMotion(Optional.of(new HeadMotion.Build(2_000_000, 1_600, 78_000, 8_000)));
    HeadMotion.Inputs homeStaysOpen = new HeadMotion.Inputs(true, true, false, true);
    int steps = 0;
    for (int ms = 0; ms < 2_000; ms++) {
      if (ms % everyMs == 0) {
        assertThat(motion.moveTo(0, homeStaysOpen)).isEmpty();
      }
      steps += motion.step(homeStaysOpen);
    }
    assertThat(steps).isBetween(1_500, 1_601);
  }

  @Test
  void seeksHomeNoLongerHoweverOftenItIsAsked() {
    HeadMotion motion =
        new HeadMotion(Optional.of(new HeadMotion.Build(2_000_000, 1_600, 9_000, 8_000)));
    HeadMotion.Inputs between = new HeadMotion.Inputs(true, true, true, true);
    int steps = 0;
    for (int ms = 0; ms < 2_400; ms++) {
      if (ms % 10 == 0) {
        motion.moveTo(0, between);
      }
      steps += motion.step(between);
    }
    // 1.1 times 9 mm and 2 mm are 11.9 mm, 9520 steps.
    assertThat(steps).isBetween(-9_524, -9_000);
  }
}
