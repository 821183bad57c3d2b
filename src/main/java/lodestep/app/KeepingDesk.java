package lodestep.app;

import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.clock.SystemWallClock;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.cli.KeepingWork;
import lodestep.cli.Program;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.ledger.Chain;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerBinding;
import lodestep.port.EventDraft;
import lodestep.port.EventStore;
import lodestep.port.KeepingEvent;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerException;

/** What befell magnets after their verdicts, and what they read then. */
final class KeepingDesk implements KeepingWork {

  private final Wiring wiring;
  private final SystemMonotonicClock monotonic;
  private final SystemWallClock wall;
  private final Outside outside;

  KeepingDesk(
      Wiring wiring, SystemMonotonicClock monotonic, SystemWallClock wall, Outside outside) {
    this.wiring = wiring;
    this.monotonic = monotonic;
    this.wall = wall;
    this.outside = outside;
  }

  /**
   * The entry alone, and no start of the program: that would close what a batch left open without
   * asking the head how it ended.
   */
  @Override
  public void note(RigConfig rig, Path ledgerFile, KeepingEvent.MagnetNoted note) {
    LedgerBinding binding = new LedgerBinding(rig.name(), rig.kind());
    try (EventStore store = SqliteStore.open(ledgerFile, binding, monotonic.nowNs(), wall.now())) {
      EventDraft draft = new EventDraft(note, monotonic.nowNs(), notBefore(store, wall.now()));
      store.commit(Chain.link(store.newest(), List.of(draft)));
    } catch (LedgerException refused) {
      throw new Refusal(String.valueOf(refused.getMessage()));
    }
  }

  @Override
  public Program.Outcome reread(RereadRun run, Program.Watcher watcher) {
    Diary.begins("reread", run.rig(), Optional.of(run.ledgerFile()));
    Program.Outcome outcome =
        new BatchDesk(wiring, monotonic, wall, outside).reread(run, Diary.of(watcher));
    Diary.ends("reread" + (outcome.stopped() ? ", stopped" : ""));
    return outcome;
  }

  /** This time, or the newest entry's, whose virtual clock may have run ahead of ours. */
  static Instant notBefore(LedgerArchive archive, Instant now) {
    Instant[] newest = {now};
    long number = archive.newest().number();
    archive.forEach(
        number,
        number,
        stored -> {
          Instant wall = EventCodec.decode(stored).wall();
          newest[0] = wall.isAfter(now) ? wall : now;
        });
    return newest[0];
  }
}
