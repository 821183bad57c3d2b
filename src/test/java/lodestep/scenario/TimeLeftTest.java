package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.MagnetSpans;
import lodestep.bench.PlanRow;
import lodestep.bench.TimeLeft;
import lodestep.config.RigConfig;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.ledger.MemoryStore;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: how long a batch takes still is told before its first verdict, says by what, and is what it
 * takes. Method: whole batches on virtual rigs, in virtual time, against what was expected before.
 */
class TimeLeftTest {

  private static final PlanRow RODS = Benches.rod("rod", PoleUp.NORTH, Benches.level(620, 11), 3);
  private static final PlanRow BARS = Benches.bar("bar", PoleUp.SOUTH, Benches.level(-310, 9), 2);

  private static double seconds(VirtualBench bench) {
    double from = bench.nowNs() * 1e-9;
    Benches.toTheEnd(bench);
    return bench.nowNs() * 1e-9 - from;
  }

  static Stream<Arguments> rigs() {
    return Stream.of(
        Arguments.of("bank", Benches.RIG, Benches.batch(PlannerMode.CURVE, RODS, BARS)),
        Arguments.of(
            "switched coil",
            SwitchedBenches.RIG,
            SwitchedBenches.batch(
                0,
                lodestep.bench.Entry.planned(
                    List.of(SwitchedBenches.rod("rod", PoleUp.NORTH, Benches.level(600, 12))),
                    SwitchedBenches.RIG))),
        Arguments.of(
            "jig",
            JigBenches.JIG,
            JigBenches.batch(
                JigBenches.JIG, JigBenches.rods(JigBenches.JIG, Benches.level(600, 9), 2))));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("rigs")
  void expectsOfAnEmptyRecordWhatTheBatchTakes(String name, RigConfig rig, Batch batch) {
    TimeLeft.Known nothing = TimeLeft.before(batch, MagnetSpans.NONE, rig);
    TimeLeft left = TimeLeft.of(batch, nothing, 0);
    assertThat(left.by()).isEqualTo(TimeLeft.By.PLANNER);
    assertThat(left.magnets()).isZero();

    MemoryStore store = Benches.emptyLedger(rig);
    try (VirtualBench bench = Benches.started(rig, store, batch, 23, FaultPlan.NONE)) {
      assertThat(seconds(bench)).isBetween(left.least(), left.most());
    }
    assertThat(left.most()).as("it says something").isLessThan(12 * left.least());
  }

  @Test
  void expectsOfLikeMagnetsOnRecordWhatTheNextOnesTake() {
    MemoryStore store = Benches.emptyLedger();
    try (VirtualBench bench =
        Benches.started(store, Benches.batch(PlannerMode.CURVE, RODS, BARS), 29)) {
      Benches.toTheEnd(bench);
    }
    MagnetSpans spans = MagnetSpans.of(store);
    assertThat(spans.spans()).hasSize(5);
    Batch again = Benches.batch(PlannerMode.CURVE, RODS);
    TimeLeft left = TimeLeft.of(again, TimeLeft.before(again, spans, Benches.RIG), 0);

    assertThat(left.by()).isEqualTo(TimeLeft.By.ALIKE);
    assertThat(left.magnets()).isEqualTo(3);
    assertThat(left.alloys()).isEqualTo("alnico 5");
    try (VirtualBench bench = Benches.started(store, again, 31)) {
      assertThat(seconds(bench)).isBetween(left.least(), left.most());
    }
  }

  private static TimeLeft told(MagnetSpans spans, double spent, PlanRow... rows) {
    Batch batch = Benches.batch(PlannerMode.CURVE, rows);
    return TimeLeft.of(batch, TimeLeft.before(batch, spans, Benches.RIG), spent);
  }

  private static MagnetSpans took(double... seconds) {
    return new MagnetSpans(
        DoubleStream.of(seconds)
            .mapToObj(each -> new MagnetSpans.Span("alnico 5", "rod", "level", each, 4))
            .toList());
  }

  /**
   * Five figures of mean 20 and standard deviation 5 say of the next one: 20 &plusmn; 2.132 x 5 x
   * sqrt(1 + 1/5), and of the next three together: 60 &plusmn; 2.132 x 5 x sqrt(3 + 9/5). The 2.132
   * is Student's t of four degrees of freedom, 90 per cent, two-sided (any table; from memory).
   */
  @Test
  void saysNineTimesInTenByStudentsT() {
    MagnetSpans five = took(13.675445, 16.837722, 20, 23.162278, 26.324555);
    TimeLeft one = told(five, 0, Benches.rod("a", PoleUp.NORTH, Benches.level(620, 11), 1));
    assertThat(one.least()).isCloseTo(20 - 2.132 * 5 * Math.sqrt(1.2), within(0.01));
    assertThat(one.most()).isCloseTo(20 + 2.132 * 5 * Math.sqrt(1.2), within(0.01));

    TimeLeft three = told(five, 0, RODS);
    assertThat(three.least()).isCloseTo(60 - 2.132 * 5 * Math.sqrt(4.8), within(0.01));
    assertThat(three.most()).isCloseTo(60 + 2.132 * 5 * Math.sqrt(4.8), within(0.01));
  }

  @Test
  void countsWhatIsSpentAndIsNeverAtNothingWhileAMagnetIsOpen() {
    TimeLeft fresh = told(took(20, 21, 22, 20, 21), 0, RODS);
    TimeLeft later = told(took(20, 21, 22, 20, 21), 15, RODS);
    TimeLeft late = told(took(20, 21, 22, 20, 21), 4_000, RODS);

    assertThat(later.least()).isCloseTo(fresh.least() - 15, within(1e-9));
    assertThat(late.least()).isPositive();
    assertThat(late.most()).isGreaterThanOrEqualTo(late.least());
  }

  @Test
  void goesByOthersWhereNoneIsAlikeAndLeavesOutAWalkToTheKettle() {
    TimeLeft other = told(took(20, 21, 22, 20, 900), 0, BARS);
    assertThat(other.by()).isEqualTo(TimeLeft.By.ANY);
    assertThat(other.magnets()).isEqualTo(4);
    assertThat(other.most()).isLessThan(60);

    assertThat(told(took(20, 21, 22), 0, RODS, BARS).by()).isEqualTo(TimeLeft.By.ANY);
  }

  /** A pause, a trip or another run of the program is no magnet's time. */
  @Test
  void countsNoTimeInWhichABatchWasPaused() {
    MemoryStore store = Benches.emptyLedger();
    try (VirtualBench bench = Benches.started(store, Benches.batch(PlannerMode.CURVE, RODS), 29)) {
      boolean asked = false;
      while (!bench.done()) {
        bench.runScan();
        long done = bench.job().batch().entries().stream().filter(one -> one.done()).count();
        if (!asked && done == 1) {
          asked = bench.scan().offer(lodestep.port.Command.PAUSE);
        }
        if (asked && bench.job().sentence().startsWith("paused")) {
          bench.scan().offer(lodestep.port.Command.CONTINUE);
        }
      }
    }
    assertThat(MagnetSpans.of(store).spans()).hasSize(2);
  }

  @Test
  void tellsNothingOfABatchThatIsOver() {
    Optional<Batch> over = Optional.of(Benches.batch(PlannerMode.CURVE, 4, List.of()));
    TimeLeft none = TimeLeft.of(over.orElseThrow(), TimeLeft.Known.NOTHING, 5);
    assertThat(none.most()).isZero();
  }
}
