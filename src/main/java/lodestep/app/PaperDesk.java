package lodestep.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.clock.SystemWallClock;
import lodestep.adapter.paper.SheetPdf;
import lodestep.adapter.paper.StickersPdf;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.bench.LedgerStart;
import lodestep.bench.PoleJob;
import lodestep.bench.PoleWork;
import lodestep.cli.HeadWork;
import lodestep.cli.PaperWork;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.ledger.Chain;
import lodestep.ledger.LedgerBinding;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.EventStore;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.port.Sheet;
import lodestep.port.Stickers;
import lodestep.port.StoredEvent;

/** Keeps entries, reads pickups and writes paper. */
final class PaperDesk implements PaperWork {

  private final Wiring wiring;
  private final HeadDesk heads;
  private final SystemMonotonicClock monotonic;
  private final SystemWallClock wall;

  PaperDesk(Wiring wiring, HeadDesk heads, SystemMonotonicClock monotonic, SystemWallClock wall) {
    this.wiring = wiring;
    this.heads = heads;
    this.monotonic = monotonic;
    this.wall = wall;
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
    String name = Optional.ofNullable(file.getFileName()).map(Path::toString).orElse("");
    Path beside = file.resolveSibling(name + ".part");
    try {
      try {
        Files.write(beside, bytes);
        Files.move(beside, file, StandardCopyOption.REPLACE_EXISTING);
      } finally {
        Files.deleteIfExists(beside);
      }
    } catch (IOException unwritten) {
      throw new Refusal("cannot write " + file + "; see that its folder is there and has room");
    }
  }

  @Override
  public ChainEnd keep(RigConfig rig, Path ledgerFile, LedgerEvent event, String why) {
    LedgerBinding binding = new LedgerBinding(rig.name(), rig.kind());
    try (EventStore store = SqliteStore.open(ledgerFile, binding, monotonic.nowNs(), wall.now())) {
      LedgerStart.Program program = wiring.program(rig, "");
      List<LedgerEvent> events = new ArrayList<>(LedgerStart.of(store, rig, program).prologue());
      events.add(event);
      events.add(new LedgerEvent.ProgramStopped(why));
      List<StoredEvent> stored =
          Chain.link(
              store.newest(),
              events.stream()
                  .map(each -> new EventDraft(each, monotonic.nowNs(), wall.now()))
                  .toList());
      store.commit(stored);
      return stored.get(stored.size() - 2).end();
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  @Override
  public PoleJob.Done poles(PoleRun run, HeadWork.HandWatcher watcher) {
    Diary.begins("pole tops", run.rig(), Optional.of(run.ledgerFile()));
    boolean real = run.rig().kind() == RigKind.REAL;
    LedgerStart.Program program = wiring.program(run.rig(), real ? "" : Long.toString(run.seed()));
    PoleWork work =
        new PoleWork(
            run.pickup(),
            run.built(),
            run.round(),
            run.stage(),
            run.seat(),
            run.spacer(),
            program.calibration(),
            run.rig().limits());
    PoleJob.Done done = heads.poles(run, work, program, Diary.of(watcher));
    Diary.ends("pole tops, " + done.poles().read().size() + " read");
    return done;
  }
}
