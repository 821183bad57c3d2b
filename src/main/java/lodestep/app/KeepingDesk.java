package lodestep.app;

import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.clock.SystemWallClock;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.app.remote.HandOrder;
import lodestep.bench.LedgerStart;
import lodestep.bench.NestSeatings;
import lodestep.bench.PlanRow;
import lodestep.bench.RereadSeries;
import lodestep.bench.Rereads;
import lodestep.bench.SeriesJob;
import lodestep.bench.SeriesWork;
import lodestep.cli.HeadWork;
import lodestep.cli.KeepingWork;
import lodestep.cli.Program;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.ledger.Chain;
import lodestep.ledger.EventCodec;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MagnetHistory;
import lodestep.measure.GaugeCalibration;
import lodestep.port.EventDraft;
import lodestep.port.EventStore;
import lodestep.port.KeepingEvent;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerException;
import lodestep.sim.StockPiece;

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

  @Override
  public SeriesJob.Done rereadByHand(RereadRun run, HeadWork.HandWatcher watcher) {
    RigConfig rig = run.rig();
    LedgerFiles.require(run.ledgerFile());
    Diary.begins("reread by hand", rig, Optional.of(run.ledgerFile()));
    boolean real = rig.kind() == RigKind.REAL;
    LedgerStart.Program program =
        wiring.program(rig, real ? "" : Long.toString(run.seed()), run.ledgerFile());
    RereadSeries series = series(run, program.calibration());
    SeriesWork work = series.work(rig);
    SeriesJob.Done over =
        (SeriesJob.Done)
            new HeadDesk(monotonic, wall, outside)
                .guided(
                    new HeadDesk.GuidedRun(
                        rig,
                        run.ledgerFile(),
                        real ? HandOrder.NOTHING : laid(series, run.seed()),
                        run.seed(),
                        GaugeDesk.SERIES_WORDS),
                    program,
                    (store, start) -> {
                      GaugeDesk.requireInControl(GaugeRecord.of(store), List.of(series.nest()));
                      return SeriesJob.begin(work, start.prologue());
                    },
                    Diary.of(watcher));
    Diary.ends("reread by hand, " + (over.series().complete() ? "complete" : "left open"));
    return over;
  }

  private RereadSeries series(RereadRun run, GaugeCalibration gauge) {
    try (LedgerArchive archive = wiring.archive(run.ledgerFile())) {
      NestSeatings seatings = NestSeatings.of(archive);
      List<Rereads.Again> magnets = new ArrayList<>();
      for (long magnet : run.magnets()) {
        MagnetHistory history =
            MagnetHistory.of(archive, magnet)
                .orElseThrow(() -> new Refusal("no magnet " + magnet + " is on record"));
        magnets.add(Rereads.again(archive, history, run.rig(), gauge, seatings, wall.now()));
      }
      return new RereadSeries(magnets, gauge);
    } catch (IllegalArgumentException cannot) {
      throw new Refusal(String.valueOf(cannot.getMessage()));
    }
  }

  /** On a virtual head each lies there as it was accepted. */
  private static HandOrder laid(RereadSeries series, long seed) {
    List<StockPiece> pieces = new ArrayList<>();
    for (Rereads.Again again : series.magnets()) {
      PlanRow row = again.row();
      VirtualLevel level =
          new VirtualLevel(
              row.alloy().name(),
              row.shape(),
              again.accepted().value(),
              row.nest().standOff(),
              new VirtualLevel.Seeds(seed, again.history().magnet()));
      level.piece(row.magnet(), row.nest().name(), 0).ifPresent(pieces::add);
    }
    long height = series.magnets().get(0).row().shape().height().microMetres();
    return new HandOrder(series.nest().name(), seed, pieces, List.of(), height);
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
