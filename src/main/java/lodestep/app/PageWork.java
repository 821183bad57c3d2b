package lodestep.app;

import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Pattern;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.HandGauges;
import lodestep.bench.Lots;
import lodestep.bench.MagnetSpans;
import lodestep.bench.Matching;
import lodestep.bench.NestSeatings;
import lodestep.bench.Plan;
import lodestep.bench.PlanDoubts;
import lodestep.bench.PlanError;
import lodestep.bench.PlanReading;
import lodestep.bench.PlanRow;
import lodestep.bench.TimeLeft;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.dial.PlannerMode;
import lodestep.ledger.AcceptedMagnet;
import lodestep.ledger.EventCodec;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.MagnetNames;
import lodestep.magnet.Alloy;
import lodestep.measure.GaugeCalibration;
import lodestep.panel.Bench;
import lodestep.panel.PlanForm;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualOperator;

/** Makes work of plans and of what was left open; off the control path. Any thread. */
record PageWork(RigConfig rig, Path ledgerFile, GaugeCalibration gauge, long seed, Instant from) {

  /**
   * A batch to begin.
   *
   * @param pieces the magnets beside a virtual rig, by name
   * @param times by which its end is expected
   */
  record Work(Batch batch, Map<String, VirtualOperator.Piece> pieces, TimeLeft.Known times) {}

  private static final Pattern LINE = Pattern.compile("\\bline (\\d{1,6})\\b");

  /** The alloys that can be dialed. */
  List<String> alloys() {
    return Lots.of(rig).alloys().stream()
        .filter(alloy -> alloy.family().isDialed())
        .map(Alloy::name)
        .toList();
  }

  Bench.PlanCheck check(PlanForm form) {
    return read(form)
        .match(
            plan ->
                new Bench.PlanCheck(
                    List.of(),
                    PlanDoubts.of(plan, rig).stream().map(PageWork::byRow).toList(),
                    plan.rows().stream().map(PageWork::words).toList(),
                    rig.headAlone()
                        ? Optional.empty()
                        : Optional.of(batch(plan, 0, Entry.planned(plan.rows(), rig), seatings()))),
            refused ->
                new Bench.PlanCheck(
                    refused.errors().stream().map(PageWork::words).toList(),
                    List.of(),
                    full(form),
                    Optional.empty()));
  }

  /** What rows can do of which no level has been chosen yet: their full charge, if it is known. */
  private List<String> full(PlanForm form) {
    return form.rows().stream()
        .map(row -> read(new PlanForm(form.name(), List.of(row.charged()))))
        .flatMap(
            reading ->
                reading
                    .match(
                        plan -> plan.rows().stream().map(PageWork::words).toList(),
                        refused -> List.<String>of())
                    .stream())
        .toList();
  }

  private static String words(PlanError error) {
    String where = error.columnName().isEmpty() ? "" : error.columnName() + ": ";
    return byRow("line " + error.line() + ", " + where + error.sentence());
  }

  /** A plan put together by touch has no lines but rows: its heading is none of them. */
  private static String byRow(String sentence) {
    return LINE.matcher(sentence)
        .replaceAll(line -> "row " + Math.max(1, Integer.parseInt(line.group(1)) - 1));
  }

  /** What such a magnet can do, beside what is asked of it. */
  private static String words(PlanRow row) {
    String full = row.fullCharge().inGauss();
    String about =
        row.name()
            + ": fully charged, such a magnet reads about "
            + full
            + " in the "
            + row.nest().name();
    return row.task()
        .match(
            level ->
                about
                    + String.format(
                        Locale.ROOT,
                        "; %s is %.0f %% of that",
                        level.target().magnitude().inGauss(),
                        100 * level.target().magnitude().tesla() / row.fullCharge().tesla()),
            down -> about,
            none -> about,
            charge -> about);
  }

  private PlanReading read(PlanForm form) {
    return Wiring.reader(rig, HandGauges.NONE, gauge, seatings()).read(form.name(), form.text());
  }

  /** A batch of this plan; refused where the plan is, or the gauge is out of control. */
  Work batch(PlanForm form) {
    Plan plan = Wiring.understood(read(form));
    return reading(
        archive -> {
          GaugeDesk.requireInControl(GaugeRecord.of(archive), plan);
          List<Entry> entries = Entry.planned(plan.rows(), rig);
          Batch batch =
              batch(plan, 0, entries, NestSeatings.of(archive))
                  .with(LearnedBefore.forBatch(archive, rig));
          return new Work(batch, pieces(batch, archive, seed), times(batch, archive));
        });
  }

  /** The batch that the newest run left open. */
  Work leftOpen() {
    return reading(
        archive -> {
          LeftOpen going =
              LeftOpen.of(archive, rig, gauge)
                  .orElseThrow(() -> new Refusal("no batch was left open to go on with"));
          Batch batch =
              batch(going.plan(), going.number(), going.entries(), NestSeatings.of(archive))
                  .with(LearnedBefore.forBatch(archive, rig));
          return new Work(
              batch,
              pieces(batch, archive, going.virtualSeed().orElse(seed)),
              times(batch, archive));
        });
  }

  /**
   * The row of one magnet that can be worked by hand, under a name that is free.
   *
   * @throws IllegalArgumentException with one sentence, if it cannot
   */
  PlanRow byHand(PlanForm form) {
    try {
      return reading(
          archive -> {
            GaugeRecord record = GaugeRecord.of(archive);
            Plan plan =
                Wiring.understood(
                    Wiring.reader(
                            rig,
                            HandGauges.of(record, Long.MAX_VALUE),
                            gauge,
                            NestSeatings.of(archive))
                        .read(form.name(), named(form, MagnetNames.of(archive)).text()));
            if (plan.rows().size() != 1 || plan.rows().get(0).count() != 1) {
              throw new Refusal("by hand one magnet is worked at a time: plan one row with one");
            }
            GaugeDesk.requireInControl(record, plan);
            return plan.rows().get(0);
          });
    } catch (Refusal refused) {
      throw new IllegalArgumentException(refused.getMessage(), refused);
    }
  }

  private static PlanForm named(PlanForm form, MagnetNames taken) {
    return new PlanForm(
        form.name(), form.rows().stream().map(row -> row.named(taken.free(row.name()))).toList());
  }

  /**
   * Accepted magnets of this batch at the positions of its plan as it stood; left out is what
   * cannot be counted on: noted since it was read, or not proven inside its tolerance at its
   * points.
   */
  Matching match(long number) {
    return reading(
        archive -> {
          List<LedgerEntry> begun = new ArrayList<>();
          archive.forEach(number, number, stored -> begun.add(EventCodec.decode(stored)));
          LedgerEvent.BatchStarted started =
              begun.stream()
                  .map(LedgerEntry::event)
                  .filter(LedgerEvent.BatchStarted.class::isInstance)
                  .map(LedgerEvent.BatchStarted.class::cast)
                  .findFirst()
                  .orElseThrow(() -> new Refusal("entry " + number + " began no batch"));
          Plan plan =
              Wiring.understood(
                  LeftOpen.asItStood(
                      rig,
                      HandGauges.of(GaugeRecord.of(archive), number),
                      started.name(),
                      started.planText()));
          return Matching.of(
              plan.rows(),
              AcceptedMagnet.of(archive).stream()
                  .filter(one -> one.identity().batch() == number && one.stands())
                  .toList(),
              NestSeatings.of(archive));
        });
  }

  private Batch batch(Plan plan, long number, List<Entry> entries, NestSeatings seatings) {
    return PlanSource.batch(plan, number, entries, PlannerMode.CURVE, gauge, seatings);
  }

  private TimeLeft.Known times(Batch batch, LedgerArchive archive) {
    return TimeLeft.before(batch, MagnetSpans.of(archive), rig);
  }

  private NestSeatings seatings() {
    return new PageRecord(ledgerFile).read(NestSeatings::of).orElse(NestSeatings.USUAL);
  }

  private <T> T reading(Function<LedgerArchive, T> work) {
    try {
      return new PageRecord(ledgerFile)
          .read(work)
          .orElseThrow(() -> new Refusal("the ledger " + ledgerFile + " is gone"));
    } catch (LedgerException damaged) {
      throw new Refusal(damaged.sentence());
    }
  }

  private Map<String, VirtualOperator.Piece> pieces(
      Batch batch, LedgerArchive archive, long stockSeed) {
    if (rig.kind() != RigKind.VIRTUAL) {
      return Map.of();
    }
    Stock stock = new Stock(stockSeed, archive, from);
    List<VirtualOperator.Piece> made =
        StockPiece.made(stock.pieces(batch), Lots.of(rig), Lots.element(rig));
    List<Entry> open = batch.entries().stream().filter(entry -> !entry.done()).toList();
    Map<String, VirtualOperator.Piece> byName = new HashMap<>();
    for (int i = 0; i < made.size(); i++) {
      byName.put(open.get(i).name(), made.get(i));
    }
    return byName;
  }
}
