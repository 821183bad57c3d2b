package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import java.util.function.Function;
import lodestep.app.remote.HandOrder;
import lodestep.bench.HandWork;
import lodestep.bench.LedgerStart;
import lodestep.bench.NestSeatings;
import lodestep.bench.PlanRow;
import lodestep.bench.TypedReading;
import lodestep.cli.HeadWork;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.dial.Verdict;
import lodestep.ledger.Chain;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.Proof;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Shape;
import lodestep.measure.GaugeCalibration;
import lodestep.port.ActEvent;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualLedger;
import org.junit.jupiter.api.Test;

/**
 * Goal: with a head alone a magnet is charged by hand, knocked down into its band without a
 * machine, charged again when it fell below, accepted, and all of it is on record. Method: the
 * virtual head with a virtual hand that follows what is asked.
 */
class WorkByHandTest {

  private static final RigConfig RIG = ReferenceRig.virtual();
  private static final Instant WALL = Instant.parse("2031-05-06T09:00:00Z");
  private static final double JAWS = 400e3;
  private static final GaugeCalibration GAUGE =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);

  private final MemoryStore store = new MemoryStore();
  private final List<String> sentences = new ArrayList<>();
  private final Queue<String> typed = new ArrayDeque<>();
  private List<Long> slowMillis = List.of();
  private Function<Double, Optional<String>> types = seconds -> Optional.empty();

  WorkByHandTest() {
    LedgerEvent created = new LedgerBinding(RIG.name(), RIG.kind()).created();
    store.commit(Chain.link(ChainEnd.EMPTY, List.of(new EventDraft(created, 0, WALL))));
  }

  private static PlanRow rod(String alloy, PoleUp pole, Task task) {
    return new PlanRow(
        1,
        "swift",
        Optional.empty(),
        AlloyBook.standard().find(alloy).orElseThrow(),
        new Shape.Rod(Length.ofMm(5.1), Length.ofMm(17.5)),
        RIG.nest("rod nest"),
        pole,
        task,
        1);
  }

  private static Task level(double gauss, double toleranceGauss) {
    return new Task.ToLevel(FluxDensity.ofGauss(gauss), FluxDensity.ofGauss(toleranceGauss));
  }

  private HeadWork.HandOutcome worked(PlanRow row, long seed, List<Double> jaws) {
    StockPiece piece =
        new StockPiece(
            row.alloy().name(),
            row.shape(),
            row.poleUp() == PoleUp.NORTH,
            !(row.task() instanceof Task.ToLevel),
            seed,
            seed + 1,
            "rod nest",
            List.of());
    HandOrder order = new HandOrder("rod nest", seed, List.of(piece), jaws, 17_500, slowMillis);
    List<TypedReading> known = List.of(TypedReading.read("900 G by shelf gauge", ""));
    HandWork work = HandWork.of(row, RIG, GAUGE, NestSeatings.USUAL, known);
    LedgerStart start =
        LedgerStart.of(
            store, RIG, new LedgerStart.Program("test", "" + seed, false, GAUGE, "nominal"));
    VirtualLedger ledger = new VirtualLedger(seed, store);
    HandBench bench =
        new HandBench(
            new InsideHead(RIG, order, WALL, Optional.empty()),
            work,
            start,
            ledger,
            ledger::advance,
            "");
    return bench.toTheEnd(new Listener(), typed, () -> false);
  }

  private final class Listener implements HeadWork.HandWatcher {
    @Override
    public void event(LedgerEvent event, double seconds) {
      assertThat(event).isNotInstanceOf(ActEvent.PulseIntended.class);
    }

    @Override
    public void now(HeadWork.HandLive live) {
      sentences.add(live.sentence());
      types.apply(live.seconds()).ifPresent(typed::add);
    }

    @Override
    public void says(String sentence) {
      sentences.add(sentence);
    }
  }

  private MagnetHistory history(HeadWork.HandOutcome outcome) {
    return MagnetHistory.of(store, outcome.hand().magnet()).orElseThrow();
  }

  private List<LedgerEvent.ActByHand> acts(HeadWork.HandOutcome outcome) {
    return history(outcome).happenings().stream()
        .map(MagnetHistory.Happening::what)
        .filter(MagnetHistory.What.ByHand.class::isInstance)
        .map(what -> ((MagnetHistory.What.ByHand) what).event())
        .toList();
  }

  @Test
  void bringsAMagnetIntoItsBandAndPutsEveryActOnRecord() {
    HeadWork.HandOutcome outcome =
        worked(rod("alnico 2", PoleUp.SOUTH, level(-410, 12)), 3, List.of(JAWS));

    assertThat(outcome.verdict()).as(outcome.why()).isEqualTo(Verdict.ACCEPTED);
    double gauss = outcome.hand().last().orElseThrow().value().gauss();
    assertThat(gauss).isBetween(-422.0, -398.0);
    List<LedgerEvent.ActByHand> acts = acts(outcome);
    assertThat(acts)
        .extracting(LedgerEvent.ActByHand::act)
        .startsWith("charge", "charge", "knock down")
        .endsWith("proof");
    assertThat(acts.get(0).drivesNorth()).isFalse();
    assertThat(acts.get(2).drivesNorth()).isTrue();
    assertThat(outcome.why()).doesNotContain("not proven");
    for (int i = 1; i < acts.size(); i++) {
      assertThat(acts.get(i).beforeMicroTesla()).isEqualTo(acts.get(i - 1).afterMicroTesla());
    }
    assertThat(history(outcome).standingVerdict().orElseThrow().verdict()).isEqualTo("accepted");
    assertThat(Proof.of(store, List.of())).isInstanceOf(Proof.Result.Whole.class);
  }

  @Test
  void chargesAgainWhatFellBelow() {
    slowMillis = List.of(0L, 0L, 4_000L);
    HeadWork.HandOutcome outcome =
        worked(rod("alnico 5", PoleUp.NORTH, level(520, 12)), 4, List.of(JAWS));

    assertThat(sentences).anyMatch(said -> said.contains("below; charge again"));
    assertThat(outcome.verdict()).as(outcome.why()).isEqualTo(Verdict.ACCEPTED);
    assertThat(acts(outcome)).filteredOn(act -> act.act().equals("charge")).hasSize(3);
    assertThat(history(outcome).standingVerdict().orElseThrow().charges()).isEqualTo(3);
  }

  @Test
  void reachesANarrowBandOnTheSteepPartOfACurve() {
    for (long seed = 1; seed <= 8; seed++) {
      HeadWork.HandOutcome outcome =
          worked(rod("alnico 5", PoleUp.NORTH, level(300, 6)), seed, List.of(JAWS));

      assertThat(outcome.verdict()).as("seed " + seed).isEqualTo(Verdict.ACCEPTED);
    }
  }

  @Test
  void asksForStrongerJawsWhenItDidNotTakeTheCharge() {
    HeadWork.HandOutcome outcome =
        worked(rod("alnico 5", PoleUp.NORTH, level(600, 15)), 5, List.of(45e3, JAWS));

    assertThat(outcome.verdict()).as(outcome.why()).isEqualTo(Verdict.ACCEPTED);
    assertThat(sentences).anyMatch(said -> said.contains("did not take the charge"));
    assertThat(sentences).anyMatch(said -> said.contains("it took the charge."));
  }

  @Test
  void doesNotTakeAChargeBetweenWeakJawsForAFullOne() {
    HeadWork.HandOutcome proven =
        worked(rod("alnico 5", PoleUp.NORTH, level(500, 15)), 5, List.of(120e3, JAWS, 1e6));
    assertThat(proven.verdict()).as(proven.why()).isEqualTo(Verdict.ACCEPTED);
    assertThat(sentences).anyMatch(said -> said.contains("which moved it further"));
    assertThat(proven.why()).doesNotContain("not proven");

    types = seconds -> sentences.get(sentences.size() - 1).contains("Prove") ? once("n") : none();
    HeadWork.HandOutcome open =
        worked(rod("alnico 5", PoleUp.NORTH, level(500, 15)), 5, List.of(120e3));
    assertThat(open.why()).endsWith("; full charge not proven");
  }

  private static Optional<String> none() {
    return Optional.empty();
  }

  @Test
  void demagnetisesByTurningTheOpposingMagnetWhenItWentTooFar() {
    HeadWork.HandOutcome outcome =
        worked(
            rod("alnico 3", PoleUp.NORTH, new Task.Demagnetise(FluxDensity.ofGauss(6))),
            2,
            List.of(JAWS));

    assertThat(outcome.verdict()).as(outcome.why()).isEqualTo(Verdict.ACCEPTED);
    assertThat(Math.abs(outcome.hand().last().orElseThrow().value().gauss())).isLessThan(6);
    assertThat(acts(outcome)).noneMatch(act -> act.act().equals("charge"));
  }

  @Test
  void keepsATypedReadingBesideOursAndOutOfTheVerdict() {
    types = seconds -> seconds > 8 && typed.isEmpty() ? once("-400 G by shelf gauge") : once("");
    HeadWork.HandOutcome outcome =
        worked(rod("alnico 2", PoleUp.SOUTH, level(-410, 12)), 3, List.of(JAWS));

    List<LedgerEvent.ReadingTyped> others =
        history(outcome).happenings().stream()
            .map(MagnetHistory.Happening::what)
            .filter(MagnetHistory.What.Typed.class::isInstance)
            .map(what -> ((MagnetHistory.What.Typed) what).event())
            .toList();
    assertThat(others)
        .extracting(LedgerEvent.ReadingTyped::typed)
        .containsExactly("900 G", "-400 G");
    assertThat(others.get(1).pole()).isEqualTo("south");
    assertThat(history(outcome).readings())
        .noneMatch(reading -> reading.fieldMicroTesla() == -40_000);
    assertThat(outcome.verdict()).isEqualTo(Verdict.ACCEPTED);
  }

  private boolean hasTyped;

  private Optional<String> once(String text) {
    if (text.isEmpty() || hasTyped) {
      return Optional.empty();
    }
    hasTyped = true;
    return Optional.of(text);
  }

  @Test
  void leavesTheMagnetOpenWhenAPersonEndsIt() {
    types = seconds -> seconds > 12 ? once("q") : Optional.empty();
    HeadWork.HandOutcome outcome =
        worked(rod("alnico 2", PoleUp.SOUTH, level(-410, 12)), 3, List.of(JAWS));

    assertThat(outcome.verdict()).isEqualTo(Verdict.TRIPPED);
    assertThat(history(outcome).standingVerdict().orElseThrow().why())
        .isEqualTo("ended by a person");
  }

  @Test
  void putsEachActOnRecordBeforeTheReadingItLedTo() {
    HeadWork.HandOutcome outcome =
        worked(rod("alnico 4", PoleUp.NORTH, level(430, 12)), 11, List.of(JAWS));

    List<String> story = new ArrayList<>();
    for (MagnetHistory.Happening happening : history(outcome).happenings()) {
      if (happening.what() instanceof MagnetHistory.What.ByHand act) {
        story.add(act.event().act());
      } else if (happening.what() instanceof MagnetHistory.What.Reading reading) {
        story.add("read " + reading.event().stage());
      }
    }
    assertThat(story)
        .startsWith("read as found", "charge", "read charged", "charge", "read charged")
        .endsWith("proof", "read proof")
        .containsSequence("knock down", "read knocked down");
  }

  @Test
  void doesTheSameTwiceFromTheSameSeed() {
    HeadWork.HandOutcome once =
        worked(rod("alnico 4", PoleUp.NORTH, level(430, 12)), 11, List.of(JAWS));
    List<LedgerEvent.ActByHand> first = acts(once);
    HeadWork.HandOutcome again =
        worked(rod("alnico 4", PoleUp.NORTH, level(430, 12)), 11, List.of(JAWS));

    assertThat(acts(again))
        .usingRecursiveFieldByFieldElementComparatorIgnoringFields("magnet")
        .isEqualTo(first);
    assertThat(again.hand().magnet()).isNotEqualTo(once.hand().magnet());
  }
}
