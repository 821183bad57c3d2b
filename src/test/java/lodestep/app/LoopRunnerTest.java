package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Function;
import java.util.function.Predicate;
import lodestep.config.ReferenceRig;
import lodestep.interlock.InterlockSettings;
import lodestep.interlock.InterlockState;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import lodestep.port.View;
import lodestep.scan.ScanCycle;
import lodestep.scan.ScanPorts;
import lodestep.scan.Snapshot;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualPlanDesk;
import lodestep.sim.VirtualRig;
import lodestep.sim.VirtualWallClock;
import org.junit.jupiter.api.Test;

/** The loop in time, with time moved by hand: when scans come, how it ends, what is low then. */
class LoopRunnerTest {

  private static final long MS = 1_000_000L;
  private static final long START_NS = 3_000 * MS;
  private static final long PERIOD_NS = 5 * MS;

  private final VirtualRig rig =
      new VirtualRig(ReferenceRig.virtual(), ReferenceRig.ROD_NEST, 3L, FaultPlan.NONE);
  private final HandPace pace = new HandPace(START_NS);
  private final List<Long> scansAtNs = new ArrayList<>();

  private LoopRunner runner(LoopRunner.Ending ending, Function<View, Outputs> job) {
    ScanPorts ports =
        new ScanPorts(
            rig.lines(),
            rig.headLink(),
            new VirtualLedger(1L),
            new VirtualPlanDesk(rig.clock(), 0L),
            new VirtualWallClock(rig.clock(), Instant.EPOCH));
    Job recording =
        new Job() {
          @Override
          public JobStep step(View view) {
            scansAtNs.add(view.nowNs());
            return JobStep.stay(this, job.apply(view), false);
          }
        };
    ScanCycle scan =
        new ScanCycle(
            ports,
            InterlockSettings.of(ReferenceRig.virtual()),
            InterlockState.powerOn(),
            recording);
    return new LoopRunner(scan, pace, PERIOD_NS, ending);
  }

  private Predicate<Snapshot> afterScans(int count) {
    return snapshot -> scansAtNs.size() >= count;
  }

  private static boolean never(Snapshot snapshot) {
    return false;
  }

  private static Outputs lamp(View view) {
    return Outputs.high(OutputLine.LAMP_READY);
  }

  @Test
  void runsAScanEachPeriodFromTheFirstOn() {
    runner(new LoopRunner.Ending(afterScans(4), LoopRunnerTest::never), LoopRunnerTest::lamp).run();

    assertThat(scansAtNs)
        .containsExactly(START_NS, START_NS + 5 * MS, START_NS + 10 * MS, START_NS + 15 * MS);
  }

  @Test
  void keepsToItsScheduleAfterAScanThatCameLate() {
    pace.meanwhile(nowNs -> pace.pass(nowNs == START_NS + 5 * MS ? 2 * MS : 0));

    runner(new LoopRunner.Ending(afterScans(3), LoopRunnerTest::never), LoopRunnerTest::lamp).run();

    assertThat(scansAtNs).containsExactly(START_NS, START_NS + 7 * MS, START_NS + 10 * MS);
  }

  @Test
  void leavesOutTheScansItHasMissedAndCatchesUpWithNone() {
    pace.meanwhile(nowNs -> pace.pass(nowNs == START_NS + 5 * MS ? 23 * MS : 0));

    runner(new LoopRunner.Ending(afterScans(4), LoopRunnerTest::never), LoopRunnerTest::lamp).run();

    assertThat(scansAtNs)
        .containsExactly(START_NS, START_NS + 28 * MS, START_NS + 30 * MS, START_NS + 35 * MS);
  }

  @Test
  void isLateOnceAfterAScanThatTookLong() {
    LoopRunner runner =
        runner(
            new LoopRunner.Ending(afterScans(4), LoopRunnerTest::never),
            view -> {
              pace.pass(view.nowNs() == START_NS ? 12 * MS : 0);
              return Outputs.ALL_LOW;
            });

    runner.run();

    assertThat(scansAtNs)
        .containsExactly(START_NS, START_NS + 12 * MS, START_NS + 15 * MS, START_NS + 20 * MS);
  }

  @Test
  void isLowWhenTheWorkIsDone() {
    LoopRunner runner =
        runner(new LoopRunner.Ending(afterScans(2), LoopRunnerTest::never), LoopRunnerTest::lamp);

    runner.run();

    assertThat(rig.lines().driven()).isEqualTo(Outputs.ALL_LOW);
    assertThat(runner.failure()).isEmpty();
  }

  @Test
  void goesOnScanningAfterAStopUntilTheRigIsAtRest() {
    AtomicInteger looks = new AtomicInteger();
    List<Boolean> tripped = new ArrayList<>();
    Predicate<Snapshot> atRestAtTheFourthLook =
        snapshot -> {
          tripped.add(
              snapshot.trip().filter(trip -> trip.cause() == TripCause.STOP_ASKED).isPresent());
          return looks.incrementAndGet() == 4;
        };
    LoopRunner runner =
        runner(
            new LoopRunner.Ending(LoopRunnerTest::never, atRestAtTheFourthLook),
            LoopRunnerTest::lamp);
    pace.meanwhile(
        nowNs -> {
          if (nowNs == START_NS + 10 * MS) {
            runner.askStop();
          }
        });

    runner.run();

    assertThat(scansAtNs).hasSize(6);
    assertThat(tripped).containsExactly(true, true, true, true);
    assertThat(runner.stopAsked()).isTrue();
    assertThat(rig.lines().driven()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void endsAfterAStopAlthoughTheRigNeverComesToRest() {
    LoopRunner runner =
        runner(
            new LoopRunner.Ending(LoopRunnerTest::never, LoopRunnerTest::never),
            LoopRunnerTest::lamp);
    runner.askStop();

    runner.run();

    assertThat(pace.nowNs()).isEqualTo(START_NS + LoopRunner.LET_GO_WAIT_NS);
    assertThat(rig.lines().driven()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void isLowAndKeepsTheErrorWhateverIsThrown() {
    LinkageError error = new LinkageError("a class is missing");
    LoopRunner runner =
        runner(
            new LoopRunner.Ending(LoopRunnerTest::never, LoopRunnerTest::never),
            view -> {
              if (scansAtNs.size() == 3) {
                throw error;
              }
              return Outputs.high(OutputLine.LAMP_READY);
            });

    runner.run();

    assertThat(runner.failure()).containsSame(error);
    assertThat(scansAtNs).hasSize(3);
    assertThat(rig.lines().driven()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void isLowWhenEvenTheWaitingThrows() {
    IllegalStateException broken = new IllegalStateException("no time");
    pace.meanwhile(
        nowNs -> {
          if (nowNs > START_NS) {
            throw broken;
          }
        });
    LoopRunner runner =
        runner(
            new LoopRunner.Ending(LoopRunnerTest::never, LoopRunnerTest::never),
            LoopRunnerTest::lamp);

    runner.run();

    assertThat(runner.failure()).containsSame(broken);
    assertThat(rig.lines().driven()).isEqualTo(Outputs.ALL_LOW);
  }
}
