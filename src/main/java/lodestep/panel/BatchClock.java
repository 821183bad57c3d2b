package lodestep.panel;

import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.Entry;
import lodestep.bench.MagnetSpans;
import lodestep.bench.TimeLeft;

/**
 * Sees how long the magnets of a batch take by the rig's own time, and tells from it how long the
 * batch takes still. Waits by a person's wish, and after a trip, are left out. One thread's.
 */
final class BatchClock {

  private long batch = -1;
  private long open;
  private long seenNs;
  private double spentSeconds;
  private boolean disturbed;
  private TimeLeft.Known known = TimeLeft.Known.NOTHING;

  /**
   * What the batch under way takes still; empty where none is, or it is over.
   *
   * @param before by what it could go when it began
   */
  Optional<TimeLeft> left(Look look, TimeLeft.Known before) {
    if (!(look.job() instanceof BatchJob job) || job instanceof BatchJob.Done) {
      batch = -1;
      return Optional.empty();
    }
    Batch now = job.batch();
    long atNs = look.view().nowNs();
    if (now.number() != batch) {
      begin(now, before, atNs);
    }
    pass(Phase.of(look), atNs);
    if (now.open() < open) {
      ended(now);
    }
    open = now.open();
    return open > 0 ? Optional.of(TimeLeft.of(now, known, spentSeconds)) : Optional.empty();
  }

  private void begin(Batch now, TimeLeft.Known before, long atNs) {
    batch = now.number();
    open = now.open();
    seenNs = atNs;
    spentSeconds = 0;
    disturbed = false;
    known = before;
  }

  private void pass(Phase phase, long atNs) {
    switch (phase) {
      case PAUSED, ATTENTION, TRIPPED, RESUME, FAILED -> disturbed = true;
      default -> spentSeconds += (atNs - seenNs) * 1e-9;
    }
    seenNs = atNs;
  }

  /** The magnet before the one that is next now has its verdict. */
  private void ended(Batch now) {
    if (!disturbed) {
      now.entries().stream()
          .filter(Entry::done)
          .reduce((one, later) -> later)
          .ifPresent(
              entry -> known = known.with(MagnetSpans.span(entry, spentSeconds, now.number())));
    }
    spentSeconds = 0;
    disturbed = false;
  }
}
