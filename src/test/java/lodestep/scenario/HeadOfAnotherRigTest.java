package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.LedgerStart;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.dial.Task;
import lodestep.interlock.InterlockSettings;
import lodestep.interlock.InterlockState;
import lodestep.ledger.MemoryStore;
import lodestep.measure.GaugeCalibration;
import lodestep.port.OutputLine;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.quantity.Temperature;
import lodestep.scan.ScanCycle;
import lodestep.scan.ScanPorts;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualPlanDesk;
import lodestep.sim.VirtualRig;
import lodestep.sim.VirtualRunner;
import lodestep.sim.VirtualWallClock;
import org.junit.jupiter.api.Test;

/**
 * Goal: a head that was built for another screw moves nothing. Method: a rig and its head of one
 * rig.toml, and the host of another.
 */
class HeadOfAnotherRigTest {

  private static final long SEED = 3;
  private static final GaugeCalibration CALIBRATION =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);

  @Test
  void tripsBeforeAnythingIsEnergised() throws IOException {
    RigConfig host = JigBenches.JIG;
    VirtualRig rig = new VirtualRig(otherRig(), "rod nest", SEED, FaultPlan.NONE);
    rig.controls().lid(true);
    rig.controls().armKey(true);
    ScanCycle scan = scan(host, rig);
    VirtualRunner runner =
        new VirtualRunner(rig, host.limits().scanPeriodNs())
            .eachScan(
                nowNs -> {
                  scan.run(nowNs);
                  assertThat(scan.snapshot().driven().isHigh(OutputLine.JIG_ENABLE)).isFalse();
                });
    runner.runFor(1_000_000_000L);

    Trip trip = scan.snapshot().trip().orElseThrow();
    assertThat(trip.cause()).isEqualTo(TripCause.HEAD_NOT_FIT);
    assertThat(trip.detail()).endsWith("steps_per_turn 800 and not 1600");
    assertThat(rig.truth().permitClosed()).isFalse();
  }

  private static RigConfig otherRig() throws IOException {
    Path file =
        Path.of(
            System.getProperty("lodestep.repository", "."),
            "firmware-host/board/rig-virtual-jig.toml");
    String text = Files.readString(file).replace("= 1600", "= 800");
    return RigFile.read("other", text)
        .match(
            rig -> rig,
            problems -> {
              throw new AssertionError(problems);
            });
  }

  private static ScanCycle scan(RigConfig config, VirtualRig rig) {
    MemoryStore store = JigBenches.emptyLedger(config);
    Task task = new Task.Demagnetise(Task.Demagnetise.UNCHARGED);
    Batch batch = JigBenches.batch(config, JigBenches.rods(config, task, 1));
    LedgerStart start =
        LedgerStart.of(
            store,
            config,
            new LedgerStart.Program("test", Long.toString(SEED), false, CALIBRATION, "nominal"));
    return new ScanCycle(
        new ScanPorts(
            rig.lines(),
            rig.headLink(),
            new VirtualLedger(SEED, store),
            new VirtualPlanDesk(rig.clock(), VirtualPlanDesk.USUAL_DELAY_NS),
            new VirtualWallClock(rig.clock(), Instant.parse("2031-03-04T08:00:00Z"))),
        InterlockSettings.of(config),
        InterlockState.powerOn(start.standing(rig.clock().nowNs())),
        BatchJob.begin(batch, start.prologue(), start.recall()));
  }
}
