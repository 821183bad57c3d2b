package lodestep.app;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.app.remote.HandOrder;
import lodestep.bench.CheckJob;
import lodestep.bench.CheckWork;
import lodestep.bench.GaugeDoor;
import lodestep.bench.LedgerStart;
import lodestep.bench.NestSeatings;
import lodestep.bench.Plan;
import lodestep.bench.PlanRow;
import lodestep.bench.SeriesJob;
import lodestep.bench.SeriesWork;
import lodestep.cli.GaugeWork;
import lodestep.cli.HeadWork;
import lodestep.cli.Refusal;
import lodestep.config.NestConfig;
import lodestep.config.ReferenceConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.ledger.EventCodec;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.StudyRecord;
import lodestep.measure.GaugeCalibration;
import lodestep.port.GaugeEvent;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;

/** What the gauge's commands need of the ledger and of the rig. */
final class GaugeDesk implements GaugeWork {

  /** A sheet is typed by a person; a larger file is some other file. */
  private static final int BYTES_MAX = 1_000_000;

  private static final String CHECK_WORDS =
      "Type Enter when a thing is done, n to leave a gauge out of control so, q to end.";

  /** What can be typed in a guided series of readings. */
  static final String SERIES_WORDS =
      "Type Enter when a thing is done, q to end; what has been read stays on record.";

  private final Wiring wiring;
  private final HeadDesk desk;

  GaugeDesk(Wiring wiring, HeadDesk desk) {
    this.wiring = wiring;
    this.desk = desk;
  }

  /** Refuses work in nests whose gauge was found out of control. */
  static void requireInControl(GaugeRecord record, List<NestConfig> nests) {
    GaugeDoor.refusal(record, nests)
        .ifPresent(
            why -> {
              throw new Refusal(why);
            });
  }

  static void requireInControl(GaugeRecord record, Plan plan) {
    requireInControl(record, plan.rows().stream().map(PlanRow::nest).toList());
  }

  @Override
  public String textOf(Path file) {
    try (InputStream stream = Files.newInputStream(file)) {
      byte[] bytes = stream.readNBytes(BYTES_MAX + 1);
      if (bytes.length > BYTES_MAX) {
        throw new Refusal(file + " is too large for such a sheet");
      }
      return StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
    } catch (CharacterCodingException notUtf8) {
      throw new Refusal(file + " is not UTF-8; save the sheet as CSV in UTF-8");
    } catch (IOException unreadable) {
      throw new Refusal("cannot read " + file + "; see that the file is there");
    }
  }

  @Override
  public GaugeRecord gaugeRecord(Path ledgerFile) {
    if (!Files.exists(ledgerFile)) {
      return GaugeRecord.NONE;
    }
    try (LedgerArchive archive = wiring.archive(ledgerFile)) {
      return GaugeRecord.of(archive);
    }
  }

  @Override
  public GaugeCalibration calibrated(RigConfig rig, Path ledgerFile) {
    return Calibrated.of(rig, ledgerFile, wiring).calibration();
  }

  @Override
  public String calibratedBy(RigConfig rig, Path ledgerFile) {
    return Calibrated.of(rig, ledgerFile, wiring).source();
  }

  @Override
  public void keep(RigConfig rig, Path ledgerFile, LedgerEvent event, String why) {
    desk.keep(rig, ledgerFile, wiring.program(rig, "", ledgerFile), List.of(event), why);
  }

  @Override
  public void calibrate(
      RigConfig rig, Path ledgerFile, LedgerEvent.CalibrationSet set, long readBy) {
    if (!isBy(ledgerFile, readBy, calibrated(rig, ledgerFile))) {
      throw new Refusal(
          "the newest reading of the reference was taken by an older calibration; read it again:"
              + " lodestep gauge check");
    }
    keep(rig, ledgerFile, set, "the gauge was calibrated");
  }

  private boolean isBy(Path ledgerFile, long number, GaugeCalibration now) {
    try (LedgerArchive archive = wiring.archive(ledgerFile)) {
      return isBy(archive, number, now);
    }
  }

  /** Whether the calibration of this number is the one in use. */
  private static boolean isBy(LedgerArchive archive, long number, GaugeCalibration now) {
    boolean[] same = {false};
    archive.forEach(
        number,
        number,
        stored ->
            same[0] =
                EventCodec.decode(stored).event() instanceof LedgerEvent.CalibrationSet set
                    && set.countsPerTesla() == Math.round(now.countsPerTesla()));
    return same[0];
  }

  @Override
  public CheckJob.Done check(CheckRun run, HeadWork.HandWatcher watcher) {
    Diary.begins("gauge check", run.rig(), Optional.of(run.ledgerFile()));
    LedgerStart.Program program = program(run.rig(), run.seed(), run.ledgerFile());
    HandOrder order =
        real(run.rig())
            ? HandOrder.NOTHING
            : VirtualReference.order(run.rig(), run.reference(), run.seed());
    CheckJob.Done done =
        (CheckJob.Done)
            desk.guided(
                new HeadDesk.GuidedRun(run.rig(), run.ledgerFile(), order, run.seed(), CHECK_WORDS),
                program,
                (store, start) ->
                    CheckJob.begin(
                        CheckWork.of(
                            run.rig(),
                            run.reference(),
                            program.calibration(),
                            GaugeRecord.of(store),
                            NestSeatings.of(store)),
                        start.prologue(),
                        calibratedSince(store, run.rig(), run.reference(), program.calibration())),
                Diary.of(watcher));
    Diary.ends("gauge check, " + (done.inControl() ? "in control" : "not in control"));
    return done;
  }

  @Override
  public StudyRecord studies(Path ledgerFile) {
    if (!Files.exists(ledgerFile)) {
      return StudyRecord.NONE;
    }
    try (LedgerArchive archive = wiring.archive(ledgerFile)) {
      return StudyRecord.of(archive);
    }
  }

  @Override
  public SeriesJob.Done study(StudyRun run, HeadWork.HandWatcher watcher) {
    Diary.begins("gauge study", run.rig(), Optional.of(run.ledgerFile()));
    LedgerStart.Program program = program(run.rig(), run.seed(), run.ledgerFile());
    int done = run.goesOn().map(study -> study.readings().size()).orElse(0);
    HandOrder order =
        real(run.rig())
            ? HandOrder.NOTHING
            : VirtualStudy.order(run.study(), run.nest(), done, run.seed());
    SeriesWork work =
        run.goesOn()
            .map(on -> run.study().rest(run.rig(), run.nest(), program.calibration(), on))
            .orElseGet(
                () ->
                    run.study()
                        .work(
                            run.rig(),
                            run.nest(),
                            program.calibration(),
                            run.study().started(run.nest(), run.tolerance())));
    SeriesJob.Done over =
        (SeriesJob.Done)
            desk.guided(
                new HeadDesk.GuidedRun(
                    run.rig(), run.ledgerFile(), order, run.seed(), SERIES_WORDS),
                program,
                (store, start) -> SeriesJob.begin(work, start.prologue()),
                Diary.of(watcher));
    Diary.ends("gauge study, " + (over.series().complete() ? "complete" : "left open"));
    return over;
  }

  @Override
  public SeriesJob.Done points(PointsRun run, HeadWork.HandWatcher watcher) {
    Diary.begins("points", run.rig(), Optional.of(run.ledgerFile()));
    LedgerStart.Program program = program(run.rig(), run.seed(), run.ledgerFile());
    HandOrder order =
        real(run.rig())
            ? HandOrder.NOTHING
            : VirtualOnRecord.order(run.rig(), run.history(), run.series(), run.seed());
    SeriesWork work = run.series().work(run.rig(), program.calibration());
    SeriesJob.Done over =
        (SeriesJob.Done)
            desk.guided(
                new HeadDesk.GuidedRun(
                    run.rig(), run.ledgerFile(), order, run.seed(), SERIES_WORDS),
                program,
                (store, start) -> {
                  requireInControl(GaugeRecord.of(store), List.of(work.nest()));
                  return SeriesJob.begin(work, start.prologue());
                },
                Diary.of(watcher));
    Diary.ends("points, " + (over.series().complete() ? "complete" : "left open"));
    return over;
  }

  /** Whether the reference was read last by another calibration than is in use now. */
  static boolean calibratedSince(
      LedgerArchive archive, RigConfig rig, ReferenceConfig reference, GaugeCalibration now) {
    List<GaugeRecord.Entry<GaugeEvent.ReferenceRead>> readings =
        GaugeRecord.of(archive).readingsOf(reference.name(), rig.nest(reference.nest()));
    if (readings.isEmpty()) {
      return false;
    }
    return !isBy(archive, readings.get(readings.size() - 1).event().calibration(), now);
  }

  private LedgerStart.Program program(RigConfig rig, long seed, Path ledgerFile) {
    return wiring.program(rig, real(rig) ? "" : Long.toString(seed), ledgerFile);
  }

  private static boolean real(RigConfig rig) {
    return rig.kind() == RigKind.REAL;
  }
}
