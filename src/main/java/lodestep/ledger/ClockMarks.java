package lodestep.ledger;

import java.util.ArrayList;
import java.util.List;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.TreeMap;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.ProgramStarted;

/**
 * How far the wall time beside an event can be believed. The order of events is that of their
 * numbers, whatever the clock said; a time is a label, and this marks the doubtful ones. Any
 * thread, immutable.
 *
 * <p>Within one run of the program the wall clock is held against the monotonic one, which nobody
 * can set; from run to run only a step back shows.
 */
public final class ClockMarks {

  /** Differences up to this are how long an entry waits, or a clock that is being disciplined. */
  static final long TOLERANCE_MS = 2_000;

  /** What is to be said of a wall time. */
  public enum Mark {
    /** Nothing speaks against it. */
    SOUND(""),
    /** No outside source had set the machine's clock, or it does not say. */
    NOT_SYNCHRONISED("clock not synchronised"),
    /** The clock was set forward in this run, or the machine slept. */
    SET_FORWARD("clock set forward, or the machine slept"),
    /** It is earlier than that of an event before it. */
    SET_BACK("clock set back");

    private final String words;

    Mark(String words) {
      this.words = words;
    }

    /** For a person; empty when nothing is to be said. */
    public String words() {
      return words;
    }
  }

  /**
   * One run of the program.
   *
   * @param before wall time of the event before it; that of its own first event if there is none
   */
  private record RunOfProgram(long atNs, long wallMs, long before, boolean synchronised) {}

  private final NavigableMap<Long, RunOfProgram> runs;

  private ClockMarks(NavigableMap<Long, RunOfProgram> runs) {
    this.runs = runs;
  }

  /** Reads the program's runs from the record; its errors are the archive's. */
  public static ClockMarks of(LedgerArchive archive) {
    List<LedgerEntry> starts = new ArrayList<>();
    archive.forEachOfKind(
        EventCodec.kind(ProgramStarted.class), stored -> starts.add(EventCodec.decode(stored)));
    NavigableMap<Long, RunOfProgram> runs = new TreeMap<>();
    for (LedgerEntry start : starts) {
      long[] before = {start.wall().toEpochMilli()};
      archive.forEach(
          start.number() - 1, start.number() - 1, event -> before[0] = event.index().wallEpochMs());
      runs.put(
          start.number(),
          new RunOfProgram(
              start.atNs(),
              start.wall().toEpochMilli(),
              before[0],
              ((ProgramStarted) start.event()).clockSynchronised()));
    }
    return new ClockMarks(runs);
  }

  /** What is to be said of the wall time of this entry. */
  public Mark of(LedgerEntry entry) {
    return Optional.ofNullable(runs.floorEntry(entry.number()))
        .map(run -> of(run.getValue(), entry))
        .orElse(Mark.NOT_SYNCHRONISED);
  }

  private static Mark of(RunOfProgram run, LedgerEntry entry) {
    long wallMs = entry.wall().toEpochMilli();
    long passedMs = (entry.atNs() - run.atNs()) / 1_000_000;
    long aheadMs = wallMs - run.wallMs() - passedMs;
    if (aheadMs < -TOLERANCE_MS || wallMs < run.before() - TOLERANCE_MS) {
      return Mark.SET_BACK;
    }
    if (!run.synchronised()) {
      return Mark.NOT_SYNCHRONISED;
    }
    return aheadMs > TOLERANCE_MS ? Mark.SET_FORWARD : Mark.SOUND;
  }
}
