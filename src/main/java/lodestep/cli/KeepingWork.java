package lodestep.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.bench.SeriesJob;
import lodestep.config.RigConfig;
import lodestep.port.KeepingEvent;
import lodestep.quantity.TimeSpan;

/** What the commands on magnets after their verdict need. Every refusal is a {@link Refusal}. */
public interface KeepingWork {

  /** Puts on record what befell a magnet. */
  void note(RigConfig rig, Path ledgerFile, KeepingEvent.MagnetNoted note);

  /** Reads magnets again, guided, and tells the watcher of each. */
  Program.Outcome reread(RereadRun run, Program.Watcher watcher);

  /** The same with a head alone, where a person puts each into the nest and presses Enter. */
  SeriesJob.Done rereadByHand(RereadRun run, HeadWork.HandWatcher watcher);

  /**
   * Magnets to be read again.
   *
   * @param magnets their numbers, in the order of work
   * @param later on a virtual rig, how long after the newest entry; empty for now
   * @param seed of a virtual rig's day: noise and how each magnet lies
   */
  record RereadRun(
      RigConfig rig, Path ledgerFile, List<Long> magnets, Optional<TimeSpan> later, long seed) {
    public RereadRun {
      magnets = List.copyOf(magnets);
    }
  }
}
