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

  /** One act of a field source: what was meant, what really happened, how it was closed. */
  static final class Act {
    final ActEvent.Intent intended;

    /** How often the gate was fed for it. */
    int fires;

    /** How often current began to flow for it. */
    int pulses;

    /** The nearest to the work that the carriage came while it was open, in metres from home. */
    double lowestMetres = Double.NaN;

    /** Whether the carriage moved while it was open. */
    boolean moved;

    long endedBy;

    Act(ActEvent.Intent intended) {
      this.intended = intended;
    }

    void carriageAt(double metres) {
      moved |= metres != lastMetres && !Double.isNaN(lastMetres);
      lastMetres = metres;
      lowestMetres = Double.isNaN(lowestMetres) ? metres : Math.max(lowestMetres, metres);
    }

    private double lastMetres = Double.NaN;
  }

  private final Map<Long, Act> acts = new HashMap<>();
  private final Map<Long, Long> lowest = new HashMap<>();
  private final Map<Long, Long> lowestPerhaps = new HashMap<>();
  private Optional<Act> stroke = Optional.empty();
  private long strokeIntent;
  private long strokes;
  private final Map<Long, Entry> lastReading = new HashMap<>();
  private final Map<Long, Long> lastAct = new HashMap<>();
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
    if (event instanceof ActEvent.Intent intended) {
      intended(entry.number(), intended);
    } else if (event instanceof ActEvent.ActEnded ended) {
      ended(entry.number(), ended);
    } else if (event instanceof LedgerEvent.ActByHand act) {
      charged(act.magnet());
    } else if (event instanceof LedgerEvent.ReadingTaken reading) {
      lastReading.put(reading.magnet(), entry);
    } else if (event instanceof LedgerEvent.Tripped || event instanceof LedgerEvent.TripReset) {
      tripsAndResets.add(entry);
    } else if (event instanceof LedgerEvent.VerdictGiven verdict
        && verdict.verdict().equals("accepted")) {
      accepted++;
    }
  }

  private void intended(long number, ActEvent.Intent intended) {
    Act act = new Act(intended);
    acts.put(number, act);
    if (intended instanceof ActEvent.StrokeIntended) {
      stroke = Optional.of(act);
      strokeIntent = number;
    }
  }

  private void ended(long number, ActEvent.ActEnded ended) {
    Act act = acts.get(ended.intent());
    if (act != null) {
      act.endedBy = number;
    }
    if (strokeIntent == ended.intent()) {
      stroke = Optional.empty();
    }
    lastAct.put(ended.magnet(), number);
    if (ended instanceof ActEvent.StrokeEnded done) {
      strokes += done.outcome().equals("delivered") ? 1 : 0;
      lowest.merge(done.magnet(), done.positionMicroMetres(), Math::max);
      lowestPerhaps.merge(done.magnet(), perhaps(done), Math::max);
    } else {
      // A pulse: what the jig has done before it counts no more.
      charged(ended.magnet());
    }
  }

  private void charged(long magnet) {
    lowest.remove(magnet);
    lowestPerhaps.remove(magnet);
  }

  /** A stroke that a crash has cut off may have come as low as it was meant to. */
  private long perhaps(ActEvent.StrokeEnded done) {
    return done.outcome().equals("unknown")
        ? act(done.intent())
            .map(act -> ((ActEvent.StrokeIntended) act.intended).positionMicroMetres())
            .orElse(0L)
        : done.positionMicroMetres();
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
    acts.keySet().removeIf(intent -> intent > number);
    acts.values().stream().filter(act -> act.endedBy > number).forEach(act -> act.endedBy = 0);
    stroke = stroke.filter(open -> strokeIntent <= number);
    lastReading.values().removeIf(reading -> reading.number() > number);
    lastAct.values().removeIf(last -> last > number);
    tripsAndResets.removeIf(entry -> entry.number() > number);
  }

  /** Whether the newest trip on record was not reset. */
  boolean tripStands() {
    int size = tripsAndResets.size();
    return size > 0 && tripsAndResets.get(size - 1).event() instanceof LedgerEvent.Tripped;
  }

  /** The gate was really fed for this intent. */
  void fired(long intent) {
    act(intent).ifPresent(act -> act.fires++);
  }

  /** Current really began to flow for this intent. */
  void pulsed(long intent) {
    act(intent).ifPresent(act -> act.pulses++);
  }

  /** The carriage really is here, in metres from home. */
  void carriageAt(double metres) {
    if (stroke.isPresent()) {
      stroke.get().carriageAt(metres);
    }
  }

  /** The act of this intent, if there is such an intent. */
  Optional<Act> act(long intent) {
    return Optional.ofNullable(acts.get(intent));
  }

  /** The stroke that is open, if its intent is durable. */
  Optional<Act> durableStroke() {
    return stroke.isPresent() && strokeIntent <= acknowledgedTo ? stroke : Optional.empty();
  }

  /** Whether a stroke is open whose intent is handed over and not durable yet. */
  boolean strokeAwaitsDisk() {
    return stroke.isPresent() && strokeIntent > acknowledgedTo;
  }

  /** Strokes on record as delivered. */
  long strokes() {
    return strokes;
  }

  /**
   * The lowest place of a stroke on record for this magnet since its last charge, in micrometres
   * from home; 0 if there was none.
   */
  long lowestMicroMetres(long magnet) {
    return lowest.getOrDefault(magnet, 0L);
  }

  /** The same, but that strokes whose end is unknown count as what was meant. */
  long lowestPerhapsMicroMetres(long magnet) {
    return lowestPerhaps.getOrDefault(magnet, 0L);
  }

  /** Whether any intent that is durable has no end yet. */
  boolean hasOpenDurableIntent() {
    for (Map.Entry<Long, Act> each : acts.entrySet()) {
      if (each.getValue().endedBy == 0 && each.getKey() <= acknowledgedTo) {
        return true;
      }
    }
    return false;
  }

  /** Intents with no end. */
  List<Long> open() {
    return acts.entrySet().stream()
        .filter(each -> each.getValue().endedBy == 0)
        .map(Map.Entry::getKey)
        .sorted()
        .toList();
  }

  /** The newest reading of this magnet. */
  Optional<Entry> lastReading(long magnet) {
    return Optional.ofNullable(lastReading.get(magnet));
  }

  /** The event that ended the newest act on this magnet; 0 if there was none. */
  long lastActEnd(long magnet) {
    return lastAct.getOrDefault(magnet, 0L);
  }

  /** Accepted magnets, as the host handed them over. */
  long accepted() {
    return accepted;
  }
}
