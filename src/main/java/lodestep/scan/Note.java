package lodestep.scan;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;

/**
 * What a person puts on record at once while the rig runs, one entry or several that belong
 * together: the control loop appends it, so that one alone writes, and says when it is durable. Any
 * thread.
 */
public final class Note {

  private final List<LedgerEvent> events;
  private final CompletableFuture<Settled> settled = new CompletableFuture<>();
  private long number;

  /**
   * @param events at least one
   */
  Note(List<LedgerEvent> events) {
    this.events = List.copyOf(events);
  }

  List<LedgerEvent> events() {
    return events;
  }

  /**
   * Control thread only.
   *
   * @param as the number of its last entry
   */
  void appended(long as) {
    number = as;
  }

  /** What became of it: why it cannot be written, if it cannot. */
  private record Settled(Optional<String> fault) {}

  /**
   * Says what became of it as soon as the ledger has said so. Control thread only; never blocks.
   *
   * @return whether it is over
   */
  boolean settled(long durableTo, Optional<String> fault) {
    if (durableTo >= number) {
      return settled.complete(new Settled(Optional.empty()));
    }
    return fault.isPresent() && settled.complete(new Settled(fault));
  }

  /**
   * Waits until all of it is safe on disk; never called by the control thread.
   *
   * @return the number of its last entry
   * @throws LedgerException when it cannot be written, or was not in that time
   */
  public long await(long milliseconds) {
    Optional<String> fault;
    try {
      fault = settled.get(milliseconds, TimeUnit.MILLISECONDS).fault();
    } catch (TimeoutException late) {
      throw new LedgerException(
          "the rig has not said that it is on record; look whether it is before asking again");
    } catch (ExecutionException never) {
      throw new IllegalStateException("a note is never settled by an exception", never);
    } catch (InterruptedException ended) {
      Thread.currentThread().interrupt();
      throw new LedgerException("the program is ending; look whether it is on record");
    }
    fault.ifPresent(
        why -> {
          throw new LedgerException(why);
        });
    return number;
  }
}
