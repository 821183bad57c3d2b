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
import lodestep.bench.CheckJob;
import lodestep.bench.GaugeDoor;
import lodestep.bench.Plan;
import lodestep.cli.GaugeWork;
import lodestep.cli.HeadWork;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.ledger.GaugeRecord;
import lodestep.measure.GaugeCalibration;
import lodestep.port.GaugeEvent;
import lodestep.port.LedgerArchive;
import lodestep.quantity.Temperature;

/** What the gauge's commands need of the ledger and of the rig. */
final class GaugeDesk implements GaugeWork {

  /** A sheet is typed by a person; a larger file is some other file. */
  private static final int BYTES_MAX = 1_000_000;

  /** Until a calibration is on record: the gauge's nominal gain, good to a tenth of a per cent. */
  private static final double NOMINAL_GAIN_UNCERTAINTY = 0.001;

  private final Wiring wiring;
  private final HeadDesk desk;

  GaugeDesk(Wiring wiring, HeadDesk desk) {
    this.wiring = wiring;
    this.desk = desk;
  }

  static GaugeCalibration calibration(RigConfig rig) {
    return new GaugeCalibration(
        rig.gauge().countsPerTesla(), 0, Temperature.ofDegC(20), NOMINAL_GAIN_UNCERTAINTY);
  }

  /** Refuses work in nests whose gauge was found out of control. */
  static void requireInControl(GaugeRecord record, List<String> nests) {
    GaugeDoor.refusal(record, nests)
        .ifPresent(
            why -> {
              throw new Refusal(why);
            });
  }

  static void requireInControl(GaugeRecord record, Plan plan) {
    requireInControl(record, plan.rows().stream().map(row -> row.nest().name()).toList());
  }

  @Override
  public String textOf(Path file) {
    try (InputStream stream = Files.newInputStream(file)) {
      byte[] bytes = stream.readNBytes(BYTES_MAX + 1);
      if (bytes.length > BYTES_MAX) {
        throw new Refusal(file + " is too large for a sheet of readings");
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
  public GaugeCalibration calibrated(RigConfig rig) {
    return calibration(rig);
  }

  @Override
  public void keep(RigConfig rig, Path ledgerFile, GaugeEvent.HandGaugeRelated relation) {
    desk.keep(rig, ledgerFile, wiring.program(rig, ""), relation);
  }

  @Override
  public CheckJob.Done check(CheckRun run, HeadWork.HandWatcher watcher) {
    Diary.begins("gauge check", run.rig(), Optional.of(run.ledgerFile()));
    boolean real = run.rig().kind() == RigKind.REAL;
    String seed = real ? "" : Long.toString(run.seed());
    CheckJob.Done done = desk.check(run, wiring.program(run.rig(), seed), Diary.of(watcher));
    Diary.ends("gauge check, " + (done.inControl() ? "in control" : "not in control"));
    return done;
  }
}
