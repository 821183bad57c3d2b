package lodestep.ledger;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.MagnetStarted;
import lodestep.port.LedgerEvent.PulseEnded;
import lodestep.port.LedgerEvent.PulseIntended;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.StoredEvent;

/**
 * What an earlier run of the program left undone. Any thread, immutable.
 *
 * @param intents pulses intended and not ended, by the number of the intent, in rising order: each
 *     may have been fired
 * @param magnets magnets started and without a verdict since, by their number, in the order they
 *     were started: each begins again with a charge
 */
public record OpenWork(Map<Long, PulseIntended> intents, Map<Long, MagnetStarted> magnets) {

  public OpenWork {
    intents = Collections.unmodifiableMap(new LinkedHashMap<>(intents));
    magnets = Collections.unmodifiableMap(new LinkedHashMap<>(magnets));
  }

  /** Reads it from the whole record; its errors are the archive's. */
  public static OpenWork of(LedgerArchive archive) {
    Finder finder = new Finder();
    Consumer<StoredEvent> each = stored -> finder.accept(EventCodec.decode(stored));
    archive.forEach(1, archive.newest().number(), each);
    return finder.found();
  }

  /** Finds it among these entries, which stand in rising order. */
  public static OpenWork among(Iterable<LedgerEntry> entries) {
    Finder finder = new Finder();
    entries.forEach(finder);
    return finder.found();
  }

  /** The events that close the open intents as unknown, in the order of the intents. */
  public List<LedgerEvent> closings(String why) {
    return intents.entrySet().stream()
        .map(open -> unknown(open.getKey(), open.getValue(), why))
        .toList();
  }

  private static LedgerEvent unknown(long intent, PulseIntended pulse, String why) {
    return new PulseEnded(intent, pulse.magnet(), "unknown", 0, 0, 0, 0, 0, 0, 0, 0, why);
  }

  private static final class Finder implements Consumer<LedgerEntry> {

    private final Map<Long, PulseIntended> intents = new LinkedHashMap<>();
    private final Map<Long, MagnetStarted> magnets = new LinkedHashMap<>();

    @Override
    public void accept(LedgerEntry entry) {
      LedgerEvent event = entry.event();
      if (event instanceof PulseIntended intended) {
        intents.put(entry.number(), intended);
      } else if (event instanceof PulseEnded ended) {
        intents.remove(ended.intent());
      } else if (event instanceof MagnetStarted started) {
        // Taken out first, so that a magnet started again stands at its newer place.
        magnets.remove(started.magnet());
        magnets.put(started.magnet(), started);
      } else if (event instanceof VerdictGiven verdict) {
        magnets.remove(verdict.magnet());
      }
    }

    OpenWork found() {
      return new OpenWork(intents, magnets);
    }
  }
}
