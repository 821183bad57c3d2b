package lodestep.scenario;

import static lodestep.scenario.JigBenches.JIG;
import static lodestep.scenario.JigBenches.all;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.SplittableRandom;
import lodestep.app.VirtualBench;
import lodestep.bench.PlanRow;
import lodestep.port.InputLine;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.sim.Controls;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.SeatedMagnet;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: the carriage, away to have its field measured over the empty nest, comes down over no
 * magnet that is put in meanwhile. Method: a hand that opens the lid and puts one in, and contacts
 * that say that somebody did; it is looked at where the carriage really goes.
 */
class PutUnderTheJigTest {

  private static final long SEED = 17;
  private static final long MS = 1_000_000L;

  /** What the carriage still goes down on its ramp, and in two lines and scans at full speed. */
  private static final double RUNS_ON_METRES = 0.6e-3;

  private static final SeatedMagnet ANY =
      new SeatedMagnet() {
        @Override
        public double faceFieldTesla(double standOff, double kelvin, long nowNs) {
          return 0.05;
        }

        @Override
        public double heightMetres() {
          return 16.5e-3;
        }

        @Override
        public void applyPulse(double forward, double reverse, boolean forwardFirst) {}

        @Override
        public void reseat(SplittableRandom random) {}

        @Override
        public void turnOver() {}
      };

  private VirtualBench bench;

  @BeforeEach
  void begin() {
    begin(FaultPlan.NONE);
  }

  @AfterEach
  void end() {
    bench.close();
  }

  private void begin(FaultPlan faults) {
    PlanRow rods = JigBenches.rods(JIG, Benches.level(600, 9), 1);
    bench =
        Benches.started(JIG, Benches.emptyLedger(JIG), JigBenches.batch(JIG, rods), SEED, faults);
  }

  private Controls hand() {
    return bench.rig().controls();
  }

  private double carriage() {
    return bench.rig().truth().carriageMetres();
  }

  private boolean moves() {
    return bench.scan().snapshot().driven().isHigh(OutputLine.JIG_ENABLE);
  }

  private void scansFor(long ms) {
    long untilNs = bench.nowNs() + ms * MS;
    while (bench.nowNs() < untilNs) {
      bench.runScan();
    }
  }

  /** Until so many heights have been measured and the carriage moves on, or stands. */
  private void runToHeight(int height, boolean moving) {
    while (!bench.job().sentence().contains("height " + height + " of") || moves() != moving) {
      bench.runScan();
      assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
    }
  }

  /** Opens the lid, puts a magnet in, and shuts the lid: as fast as a hand is. */
  private void putIn() {
    hand().lid(false);
    scansFor(150);
    hand().seat(ANY, new SplittableRandom(SEED));
    scansFor(150);
    hand().lid(true);
  }

  /** The carriage does not come down as long as the nest holds something. */
  private void checkItOnlyGoesUpFor(long forMs, double runsOnMetres) {
    double from = carriage();
    double nearest = from;
    long untilNs = bench.nowNs() + forMs * MS;
    while (bench.nowNs() < untilNs && hand().seated().isPresent()) {
      bench.runScan();
      nearest = Math.max(nearest, carriage());
    }
    assertThat(nearest - from).as("metres down").isLessThanOrEqualTo(runsOnMetres);
  }

  /** The winder sees what is asked, takes out what she did not put in, and works on. */
  private void checkThatTheBatchGoesOn() {
    Benches.toTheEnd(bench);
    bench.end("done");
    List<LedgerEvent> events = JigBenches.events(bench.ledger().archive());
    assertThat(all(events, LedgerEvent.GapCurveMeasured.class)).hasSize(1);
    assertThat(all(events, LedgerEvent.VerdictGiven.class))
        .last()
        .extracting(LedgerEvent.VerdictGiven::verdict)
        .isEqualTo("accepted");
  }

  @ParameterizedTest
  @ValueSource(ints = {2, 4, 6})
  void endsTheMeasurementWhenTheLidIsOpenedAtAHeight(int height) {
    runToHeight(height, false);
    hand().lid(false);
    scansFor(10);

    assertThat(bench.scan().snapshot().trip()).as("nothing is driven there").isEmpty();
    assertThat(bench.job().sentence())
        .startsWith("the lid was opened while the jig's field was measured; leave the nest empty");
    putIn();
    checkItOnlyGoesUpFor(30_000, 0);
    checkThatTheBatchGoesOn();
  }

  /** The seat's wire may be broken: then the lid alone tells that a hand was there. */
  @Test
  void asksForThePedalAnewWhenTheLidWasOpenedOverASeatThatReadsEmpty() {
    bench.close();
    begin(FaultPlan.NONE.with(new Fault.HostWireBroken(InputLine.WORK_SEAT), 0));
    runToHeight(3, false);
    double stood = carriage();
    putIn();
    scansFor(200);

    assertThat(bench.job().sentence()).startsWith("the lid was opened");
    assertThat(carriage()).isEqualTo(stood);
  }

  /**
   * A seat that cannot tell, and a magnet left in the nest: the gauge tells before it is harmed.
   */
  @Test
  void doesNotComeDownOverAChargedMagnetThatTheSeatDoesNotTellOf() {
    bench.close();
    begin(FaultPlan.NONE.with(new Fault.HostWireBroken(InputLine.WORK_SEAT), 0));
    hand().seat(ANY, new SplittableRandom(SEED));
    double stood = carriage();
    double nearest = stood;
    while (!bench.job().sentence().startsWith("the gauge reads more than the jig's magnet")) {
      bench.runScan();
      nearest = Math.max(nearest, carriage());
      assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
    }

    assertThat(nearest).as("home lies above").isEqualTo(stood);
  }

  @Test
  void tripsWhenTheLidIsOpenedOnTheWayToAHeightAndComesDownOverNothing() {
    runToHeight(3, true);
    scansFor(100);
    hand().lid(false);
    scansFor(10);

    assertThat(bench.scan().snapshot().trip().map(Trip::cause)).contains(TripCause.LID_OPENED);
    putIn();
    checkItOnlyGoesUpFor(30_000, 0);
    checkThatTheBatchGoesOn();
  }

  /** A magnet that was pushed aside and falls into its seat, or a contact that only now closes. */
  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void goesUpAndParksWhenTheSeatClosesUnderAShutLid(boolean moving) {
    runToHeight(4, moving);
    scansFor(moving ? 300 : 20);
    hand().seat(ANY, new SplittableRandom(SEED));
    checkItOnlyGoesUpFor(40_000, RUNS_ON_METRES);

    assertThat(bench.scan().snapshot().trip()).isEmpty();
    double park = JIG.jig().orElseThrow().screw().park().metres();
    assertThat(carriage()).isCloseTo(park, Offset.offset(0.1e-3));
    assertThat(bench.job().sentence())
        .startsWith("something lay in the nest while the jig's field was measured; take it out");
    checkThatTheBatchGoesOn();
  }
}
