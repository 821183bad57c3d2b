package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.interlock.InterlockSettings;
import lodestep.interlock.InterlockState;
import lodestep.port.InputLine;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.scan.ScanCycle;
import lodestep.scan.ScanPorts;
import org.junit.jupiter.api.Test;

/**
 * Goal: the virtual rig and the interlocks speak of the same rig: nothing trips a sound one, and
 * each fault is called by its own name. Method: scan cycle and interlocks as on a real rig, with a
 * job that fires one pulse and no more.
 */
class RigUnderInterlocksTest {

  private static final long INTENT = 1L;
  private static final Outputs HOLD = Outputs.high(OutputLine.BANK_HOLD);

  private static final Outputs PATH = Outputs.high(OutputLine.COIL_FULL);
  private static final Outputs PATH_HELD = PATH.and(OutputLine.BANK_HOLD);

  /** Proves the bank, fills to 20 V, fires once through the series resistor, bleeds. */
  private static final class OnePulse implements Job {
    private enum Part {
      ASK,
      PROVE_FILL,
      PROVE_HOLD,
      PROVE_BLEED,
      FILL,
      STILL,
      TOKEN,
      WINDOW,
      FIRE,
      OVER
    }

    private Part part = Part.ASK;
    private long sinceNs;
    private boolean asked;
    private Optional<HeadFrame.PulseReport> report = Optional.empty();

    @Override
    public JobStep step(View view) {
      for (ReceivedFrame received : view.frames()) {
        if (received.frame() instanceof HeadFrame.PulseReport pulse) {
          report = Optional.of(pulse);
        }
      }
      if (view.trip().isPresent() || view.status().isEmpty()) {
        part = view.trip().isPresent() ? Part.OVER : part;
        return JobStep.stay(this, Outputs.ALL_LOW, false);
      }
      HeadFrame.Status head = view.status().get().frame();
      long forNs = view.nowNs() - sinceNs;
      return switch (part) {
        case ASK -> head.has(HeadFlag.PERMIT) ? go(Part.PROVE_FILL, PATH, view) : stay(PATH);
        case PROVE_FILL ->
            head.bankMilliVolts() > 5_000
                ? go(Part.PROVE_HOLD, PATH_HELD, view)
                : stay(PATH_HELD.and(OutputLine.BANK_FILL));
        case PROVE_HOLD ->
            forNs > 200_000_000L ? go(Part.PROVE_BLEED, PATH, view) : stay(PATH_HELD);
        case PROVE_BLEED -> view.bankProven() ? go(Part.FILL, HOLD, view) : stay(PATH);
        case FILL ->
            head.bankMilliVolts() > 20_000
                ? go(Part.STILL, HOLD, view)
                : stay(HOLD.and(OutputLine.BANK_FILL));
        case STILL -> forNs > 200_000_000L ? go(Part.TOKEN, HOLD, view) : stay(HOLD);
        case TOKEN -> token(view);
        case WINDOW -> head.has(HeadFlag.WINDOW) ? go(Part.FIRE, HOLD, view) : stay(HOLD);
        case FIRE ->
            forNs > 60_000_000L
                ? go(Part.OVER, Outputs.ALL_LOW, view)
                : stay(HOLD.and(OutputLine.COIL_FIRE));
        case OVER -> JobStep.stay(this, Outputs.ALL_LOW, false);
      };
    }

    private JobStep token(View view) {
      for (ReceivedFrame received : view.frames()) {
        if (received.frame() instanceof HeadFrame.TokenGrant grant) {
          go(Part.WINDOW, HOLD, view);
          return request(new HeadRequest.OpenWindow(grant.token(), INTENT, 25_000));
        }
      }
      if (asked) {
        return stay(HOLD);
      }
      asked = true;
      return request(new HeadRequest.AskToken(INTENT));
    }

    private JobStep request(HeadRequest request) {
      return new JobStep(this, HOLD, true, List.of(), List.of(request), Optional.empty());
    }

    private JobStep go(Part next, Outputs wanted, View view) {
      part = next;
      sinceNs = view.nowNs();
      return stay(wanted);
    }

    private JobStep stay(Outputs wanted) {
      return JobStep.stay(this, wanted, true);
    }
  }

  private static final class Bench {
    final VirtualRig rig;
    final OnePulse job = new OnePulse();
    final ScanCycle scan;
    final VirtualRunner runner;

    Bench(FaultPlan plan) {
      RigConfig config = ReferenceRig.virtual();
      rig = new VirtualRig(config, ReferenceRig.ROD_NEST, 8L, plan);
      VirtualLedger ledger = new VirtualLedger(4L);
      ScanPorts ports =
          new ScanPorts(
              rig.lines(),
              rig.headLink(),
              ledger,
              new VirtualPlanDesk(rig.clock(), VirtualPlanDesk.USUAL_DELAY_NS),
              new VirtualWallClock(rig.clock(), Instant.parse("2031-05-06T07:00:00Z")));
      scan = new ScanCycle(ports, InterlockSettings.of(config), InterlockState.powerOn(), job);
      runner =
          new VirtualRunner(rig, config.limits().scanPeriodNs())
              .beforeEachScan(ledger::advance)
              .eachScan(scan::run);
    }

    /** Loads a magnet, closes the lid, turns the key, and lets the job run to its end. */
    Optional<Trip> run() {
      runner.runFor(100_000_000L);
      rig.controls().seat(new MarkedMagnet(0.05), new SplittableRandom(1));
      rig.controls().lid(true);
      rig.controls().armKey(true);
      runner.runUntil(
          () -> job.part == OnePulse.Part.OVER || scan.snapshot().trip().isPresent(),
          30_000_000_000L);
      runner.runFor(4_000_000_000L);
      return scan.snapshot().trip();
    }
  }

  private static void tripsBy(Fault fault, TripCause expected) {
    // From the start of filling on, so that the rig is at work when it comes.
    Bench bench = new Bench(FaultPlan.NONE.with(fault, TestHost.atMs(450)));

    Optional<Trip> trip = bench.run();

    assertThat(trip).as("trip by %s", fault).isPresent();
    assertThat(trip.get().cause()).as("cause of %s", fault).isEqualTo(expected);
    assertThat(bench.rig.lines().driven().isHigh(OutputLine.BANK_FILL)).isFalse();
  }

  @Test
  void tripsNothingOnASoundRig() {
    Bench bench = new Bench(FaultPlan.NONE);

    Optional<Trip> trip = bench.run();

    assertThat(trip).isEmpty();
    assertThat(bench.job.report).isPresent();
    assertThat(bench.job.report.get().peakForwardMilliAmps()).isBetween(3_800, 4_200);
    assertThat(bench.rig.plant().bankVoltage().volts()).isLessThan(1.0);
  }

  @Test
  void namesALostDiode() {
    tripsBy(new Fault.DiodeMissing(), TripCause.WRONG_SIGN_CURRENT);
  }

  @Test
  void namesAPulledCable() {
    tripsBy(new Fault.CablePulled(), TripCause.HEAD_SILENT);
  }

  @Test
  void namesASilentHead() {
    tripsBy(new Fault.HeadSilent(), TripCause.HEAD_SILENT);
  }

  @Test
  void namesABrokenStopWire() {
    tripsBy(new Fault.HostWireBroken(InputLine.STOP_LOOP), TripCause.STOP_LOOP_OPEN);
  }

  @Test
  void namesAFrozenGauge() {
    tripsBy(new Fault.GaugeFrozen(), TripCause.GAUGE_FROZEN);
  }

  @Test
  void namesABrokenCoilSensorByTheFirstOfItsSigns() {
    Bench bench =
        new Bench(
            FaultPlan.NONE.with(
                new Fault.CoilSensor(Fault.CoilSensor.Way.OPEN), TestHost.atMs(450)));

    Optional<Trip> trip = bench.run();

    // The head lets go of its permit for the same reason within the same two lines.
    assertThat(trip).isPresent();
    assertThat(trip.get().cause()).isIn(TripCause.COIL_SENSOR, TripCause.PERMIT_LOST);
  }

  @Test
  void namesADeadSupply() {
    tripsBy(new Fault.SupplyWrong(0.0), TripCause.BANK_NOT_FILLING);
  }

  @Test
  void namesAWeldedFillRelay() {
    Bench bench =
        new Bench(FaultPlan.NONE.with(new Fault.RelayWelded(RelayName.FILL), TestHost.atMs(450)));

    Optional<Trip> trip = bench.run();

    // Mirror contact and rising voltage both name the fill relay; either may be seen first.
    assertThat(trip).isPresent();
    assertThat(trip.get().cause()).isIn(TripCause.FILL_CONTACT_WRONG, TripCause.BANK_RISING);
  }

  @Test
  void namesABleedPathThatDoesNotBleed() {
    tripsBy(new Fault.BleedPathOpen(), TripCause.BANK_NOT_FALLING);
  }

  @Test
  void namesAPausedHost() {
    Bench bench =
        new Bench(
            FaultPlan.NONE.with(new Fault.HostPaused(), TestHost.atMs(450), TestHost.atMs(650)));

    Optional<Trip> trip = bench.run();

    assertThat(trip).isPresent();
    assertThat(trip.get().cause()).isEqualTo(TripCause.SCAN_LATE);
  }

  @Test
  void fillsNothingWithTheLidOpen() {
    Bench bench = new Bench(FaultPlan.NONE);
    bench.rig.controls().armKey(true);

    bench.runner.runFor(5_000_000_000L);

    assertThat(bench.rig.plant().bankVoltage().volts()).isEqualTo(0.0);
    assertThat(bench.scan.snapshot().trip()).isEmpty();
  }
}
