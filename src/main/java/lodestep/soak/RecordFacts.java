package lodestep.soak;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;

/**
 * What the host has handed to the ledger, set beside what really happened. After a crash it forgets
 * what was not durable, as the host does. Confined to its world.
 */
final class RecordFacts {

  /** One event as it was handed over. */
  record Entry(long number, LedgerEvent event) {}

  /** One pulse: what was meant, what really happened, how it was closed. */
  static final class Pulse {
    final ActEvent.PulseIntended intended;
    int fires;
    int pulses;
    long endedBy;

    Pulse(ActEvent.PulseIntended intended) {
      this.intended = intended;
    }
  }

  private final Map<Long, Pulse> pulses = new HashMap<>();
  private final Map<Long, Entry> lastReading = new HashMap<>();
  private final Map<Long, Long> lastPulse = new HashMap<>();
  private final List<Entry> fresh = new ArrayList<>();
  private long acknowledgedTo;
  private final List<Entry> tripsAndResets = new ArrayList<>();
  private long accepted;

  /** Events of this scan; taken by the rules, then forgotten. */
  List<Entry> fresh() {
    return fresh;
  }

  void forgetFresh() {
    fresh.forEach(this::note);
    fresh.clear();
  }

  void appended(long number, LedgerEvent event) {
    fresh.add(new Entry(number, event));
  }

  private void note(Entry entry) {
    LedgerEvent event = entry.event();
    if (event instanceof ActEvent.PulseIntended intended) {
      pulses.put(entry.number(), new Pulse(intended));
    } else if (event instanceof ActEvent.PulseEnded ended) {
      Pulse pulse = pulses.get(ended.intent());
      if (pulse != null) {
        pulse.endedBy = entry.number();
      }
      lastPulse.put(ended.magnet(), entry.number());
    } else if (event instanceof LedgerEvent.ReadingTaken reading) {
      lastReading.put(reading.magnet(), entry);
    } else if (event instanceof LedgerEvent.Tripped || event instanceof LedgerEvent.TripReset) {
      tripsAndResets.add(entry);
    } else if (event instanceof LedgerEvent.VerdictGiven verdict
        && verdict.verdict().equals("accepted")) {
      accepted++;
    }
  }

  /** The host was told that the record is durable so far. */
  void acknowledged(long number) {
    acknowledgedTo = Math.max(acknowledgedTo, number);
  }

  /** The highest event that the host was ever told is durable. */
  long acknowledgedTo() {
    return acknowledgedTo;
  }

  /** The record goes on after this event; what came later is gone. */
  void cutTo(long number) {
    fresh.clear();
    pulses.keySet().removeIf(intent -> intent > number);
    pulses.values().stream().filter(pulse -> pulse.endedBy > number).forEach(p -> p.endedBy = 0);
    lastReading.values().removeIf(reading -> reading.number() > number);
    lastPulse.values().removeIf(last -> last > number);
    tripsAndResets.removeIf(entry -> entry.number() > number);
  }

  /** Whether the newest trip on record was not reset. */
  boolean tripStands() {
    int size = tripsAndResets.size();
    return size > 0 && tripsAndResets.get(size - 1).event() instanceof LedgerEvent.Tripped;
  }

  /** The gate was really fed for this intent. */
  void fired(long intent) {
    pulse(intent).ifPresent(pulse -> pulse.fires++);
  }

  /** Current really began to flow for this intent. */
  void pulsed(long intent) {
    pulse(intent).ifPresent(pulse -> pulse.pulses++);
  }

  /** The pulse of this intent, if there is such an intent. */
  Optional<Pulse> pulse(long intent) {
    return Optional.ofNullable(pulses.get(intent));
  }

  /** Whether any intent that is durable has no end yet. */
  boolean hasOpenDurableIntent() {
    for (Map.Entry<Long, Pulse> each : pulses.entrySet()) {
      if (each.getValue().endedBy == 0 && each.getKey() <= acknowledgedTo) {
        return true;
      }
    }
    return false;
  }

  /** Intents with no end. */
  List<Long> open() {
    return pulses.entrySet().stream()
        .filter(each -> each.getValue().endedBy == 0)
        .map(Map.Entry::getKey)
        .sorted()
        .toList();
  }

  /** The newest reading of this magnet. */
  Optional<Entry> lastReading(long magnet) {
    return Optional.ofNullable(lastReading.get(magnet));
  }

  /** The event that ended the newest pulse of this magnet; 0 if there was none. */
  long lastPulseEnd(long magnet) {
    return lastPulse.getOrDefault(magnet, 0L);
  }

  /** Accepted magnets, as the host handed them over. */
  long accepted() {
    return accepted;
  }
}
