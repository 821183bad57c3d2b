package lodestep.app;

import java.util.List;
import java.util.function.Function;
import java.util.function.Supplier;
import lodestep.app.remote.HandOrder;
import lodestep.bench.CheckJob;
import lodestep.bench.CheckWork;
import lodestep.bench.Guided;
import lodestep.bench.GuidedStudy;
import lodestep.bench.HandJob;
import lodestep.bench.HandWork;
import lodestep.bench.LedgerStart;
import lodestep.bench.Lots;
import lodestep.bench.NestSeatings;
import lodestep.bench.PlanRow;
import lodestep.bench.SeriesJob;
import lodestep.bench.SeriesWork;
import lodestep.cli.Cautions;
import lodestep.config.NestConfig;
import lodestep.config.ReferenceConfig;
import lodestep.config.RigConfig;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.StudyRecord;
import lodestep.panel.Bench;
import lodestep.panel.GaugeShelf;
import lodestep.panel.PlanForm;
import lodestep.port.LedgerArchive;
import lodestep.quantity.Nearest;
import lodestep.sim.StockPiece;

/** The gauge beside a rig that runs: its record, and guided readings in the rig's own loop. */
final class PageGauge implements GaugeShelf {

  private final PageBench.Parts parts;
  private final PageRecord record;

  PageGauge(PageBench.Parts parts) {
    this.parts = parts;
    this.record = new PageRecord(parts.ledgerFile());
  }

  private RigConfig rig() {
    return parts.rig();
  }

  @Override
  public GaugeRecord record() {
    return record.read(GaugeRecord::of).orElse(GaugeRecord.NONE);
  }

  @Override
  public StudyRecord studies() {
    return record.read(StudyRecord::of).orElse(StudyRecord.NONE);
  }

  @Override
  public String calibration() {
    return parts.program().calibrationSource();
  }

  @Override
  public Bench.Answer check(String name) {
    ReferenceConfig reference = reference(name);
    LedgerStart.Program program = parts.program();
    boolean mended =
        record
            .read(
                archive ->
                    GaugeDesk.calibratedSince(archive, rig(), reference, program.calibration()))
            .orElse(false);
    CheckJob job =
        CheckJob.begin(
            CheckWork.of(rig(), reference, program.calibration(), record(), seatings()),
            LedgerStart.later(program).prologue(),
            mended);
    return begun(
        job,
        rig().nest(reference.nest()),
        () -> VirtualReference.order(rig(), reference, parts.work().seed()).pieces(),
        "the check by " + reference.name() + " begins");
  }

  private ReferenceConfig reference(String name) {
    List<ReferenceConfig> all = rig().gauge().references();
    return all.stream()
        .filter(one -> one.name().equalsIgnoreCase(name.strip()))
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    "this rig names no reference magnet '"
                        + name.strip()
                        + "'"
                        + Nearest.hint(name, all.stream().map(ReferenceConfig::name).toList())));
  }

  @Override
  public Bench.Answer study(Study order) {
    NestConfig nest = nest(order.nest());
    boolean crossed = !order.persons().isEmpty();
    GuidedStudy study = new GuidedStudy(crossed, order.magnets(), order.persons(), order.times());
    LedgerStart.Program program = parts.program();
    return begun(
        study,
        study.work(rig(), nest, program.calibration(), study.started(nest, order.tolerance())));
  }

  @Override
  public Bench.Answer studyOn() {
    StudyRecord.Study open =
        studies()
            .open()
            .orElseThrow(() -> new IllegalArgumentException("no study of the gauge was left open"));
    NestConfig nest = nest(open.begun().nest());
    if (nest.standOff().microMetres() != open.begun().standOffMicroMetres()) {
      throw new IllegalArgumentException(
          "the "
              + nest.name()
              + " has another stand-off now than when the study began; begin a new one");
    }
    GuidedStudy study = GuidedStudy.of(open);
    return begun(study, study.rest(rig(), nest, parts.program().calibration(), open));
  }

  private NestSeatings seatings() {
    return NestSeatings.of(studies());
  }

  private NestConfig nest(String name) {
    return rig().nests().stream()
        .filter(one -> one.name().equalsIgnoreCase(name))
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("this rig has no nest '" + name + "'"));
  }

  private Bench.Answer begun(GuidedStudy study, SeriesWork work) {
    return begun(
        SeriesJob.begin(work, LedgerStart.later(parts.program()).prologue()),
        work.nest(),
        () -> VirtualStudy.order(study, work.nest(), work.done(), parts.work().seed()).pieces(),
        "the study of " + work.placings().size() + " seatings begins");
  }

  @Override
  public <T> T ofRecord(Function<LedgerArchive, T> reading) {
    return record
        .read(reading)
        .orElseThrow(() -> new IllegalArgumentException("nothing is on record yet"));
  }

  @Override
  public Bench.Answer byHand(PlanForm form) {
    PlanRow row = parts.work().byHand(form);
    LedgerStart.Program program = parts.program();
    HandJob job =
        HandJob.begin(
            HandWork.of(row, rig(), program.calibration(), seatings(), List.of()),
            LedgerStart.later(program).prologue());
    return parts.begin(
        job,
        () -> {
          HandOrder order = HeadDesk.working(row, parts.work().seed());
          return VirtualHands.Laid.worked(
              row.nest(),
              (virtual, cues, goOn) ->
                  order.hand(virtual, Lots.of(rig()), Lots.element(rig()), cues, goOn));
        },
        "the work by hand begins");
  }

  @Override
  public List<String> handCautions() {
    return Cautions.byHand();
  }

  /** On a virtual rig the magnets are laid beside the bench; one of a name is the same one. */
  private Bench.Answer begun(
      Guided job, NestConfig nest, Supplier<List<StockPiece>> pieces, String sentence) {
    return parts.begin(
        job,
        () ->
            new VirtualHands.Laid(
                nest, StockPiece.made(pieces.get(), Lots.of(rig()), Lots.element(rig()))),
        sentence);
  }
}
