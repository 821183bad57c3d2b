package lodestep.app;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import lodestep.adapter.paper.SheetPdf;
import lodestep.adapter.paper.StickersPdf;
import lodestep.app.remote.HandOrder;
import lodestep.bench.LedgerStart;
import lodestep.bench.PoleJob;
import lodestep.bench.PoleWork;
import lodestep.cli.HeadWork;
import lodestep.cli.PaperWork;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerEvent;
import lodestep.port.Sheet;
import lodestep.port.Stickers;

/** Keeps entries, reads pickups and writes paper. */
final class PaperDesk implements PaperWork {

  private static final String WORDS = "Type Enter when a thing is done, q to end.";

  private final Wiring wiring;
  private final HeadDesk heads;

  PaperDesk(Wiring wiring, HeadDesk heads) {
    this.wiring = wiring;
    this.heads = heads;
  }

  @Override
  public void write(Sheet sheet, Path file) {
    write(SheetPdf.of(sheet), file);
  }

  @Override
  public void write(Stickers stickers, Path file) {
    write(StickersPdf.of(stickers), file);
  }

  static void write(byte[] bytes, Path file) {
    try {
      Drawing.replace(bytes, file);
    } catch (IOException unwritten) {
      throw new Refusal("cannot write " + file + "; see that its folder is there and has room");
    }
  }

  @Override
  public LocalDate latestDay() {
    return latestDay(wiring.now());
  }

  /** The day where it begins first. */
  static LocalDate latestDay(Instant now) {
    return LocalDate.ofInstant(now, ZoneOffset.ofHours(14));
  }

  @Override
  public ChainEnd keep(RigConfig rig, Path ledgerFile, List<LedgerEvent> events, String why) {
    return heads.keep(rig, ledgerFile, wiring.program(rig, "", ledgerFile), events, why);
  }

  @Override
  public PoleJob.Done poles(PoleRun run, HeadWork.HandWatcher watcher) {
    Diary.begins("pole tops", run.rig(), Optional.of(run.ledgerFile()));
    boolean real = run.rig().kind() == RigKind.REAL;
    LedgerStart.Program program =
        wiring.program(run.rig(), real ? "" : Long.toString(run.seed()), run.ledgerFile());
    PoleWork work = run.work(program.calibration());
    VirtualPickup virtual =
        real ? new VirtualPickup(run.rig(), HandOrder.NOTHING) : VirtualPickup.of(run);
    PoleJob.Done done =
        (PoleJob.Done)
            heads.guided(
                new HeadDesk.GuidedRun(
                    virtual.rig(), run.ledgerFile(), virtual.order(), run.seed(), WORDS),
                program,
                (store, start) -> PoleJob.begin(work, start.prologue()),
                Diary.of(watcher));
    Diary.ends("pole tops, " + done.poles().read().size() + " read");
    return done;
  }
}
