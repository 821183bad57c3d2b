package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.JigConfig;
import lodestep.config.Limits;
import lodestep.dial.Dial;
import lodestep.dial.MagnetCurve;
import lodestep.dial.Move;
import lodestep.dial.PlannerMode;
import lodestep.dial.RigMemory;
import lodestep.dial.Task;
import lodestep.dial.Verdict;
import lodestep.dial.Work;
import lodestep.dial.Zero;
import lodestep.magnet.Neutral;
import lodestep.magnet.UnknownAlloy;
import lodestep.measure.GaugeCalibration;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;

/**
 * A batch under way. Any thread, immutable.
 *
 * @param number ledger number of its first event; 0 until it has begun
 * @param entries in the order of work
 * @param zero the gauge's zero in use
 * @param calibrationNumber ledger number of the calibration
 * @param seatings how magnets lie in the rig's nests
 */
public record Batch(
    String name,
    String planSha256,
    String planText,
    long number,
    List<Entry> entries,
    PlannerMode mode,
    RigMemory memory,
    Optional<Zero> zero,
    GaugeCalibration calibration,
    long calibrationNumber,
    NestSeatings seatings) {

  public Batch {
    entries = List.copyOf(entries);
  }

  /** The magnet that is to be put in the nest now: the first with no verdict that stands. */
  public Optional<Entry> next() {
    return entries.stream().filter(entry -> !entry.done()).findFirst();
  }

  /** The rig's limits. */
  public Limits limits() {
    return entries.get(0).prepared().limits();
  }

  /** The rig's jig, if it has one. */
  public Optional<JigConfig> jig() {
    return entries.stream().findFirst().flatMap(entry -> entry.prepared().jig());
  }

  /** Whether its magnets are only read again: no plan, no attempts, no verdicts. */
  public boolean rereads() {
    return entries.stream().anyMatch(entry -> entry.prepared().again().isPresent());
  }

  /** How many have this verdict. */
  public long count(Verdict verdict) {
    return entries.stream()
        .filter(entry -> entry.end().isPresent() && entry.end().get().verdict() == verdict)
        .count();
  }

  /** How many have no verdict that stands. */
  public long open() {
    return entries.stream().filter(entry -> !entry.done()).count();
  }

  Batch numbered(long newNumber, List<Entry> named, long calibrationEvent) {
    return new Batch(
        name,
        planSha256,
        planText,
        newNumber,
        named,
        mode,
        memory,
        zero,
        calibration,
        calibrationEvent,
        seatings);
  }

  Batch with(Entry entry) {
    List<Entry> changed = new ArrayList<>(entries);
    changed.replaceAll(old -> old.magnet() == entry.magnet() ? entry : old);
    return with(changed, memory, zero);
  }

  /** With what the rig has taught. */
  public Batch with(RigMemory newMemory) {
    return with(entries, newMemory, zero);
  }

  Batch with(Optional<Zero> newZero) {
    return with(entries, memory, newZero);
  }

  private Batch with(List<Entry> newEntries, RigMemory newMemory, Optional<Zero> newZero) {
    return new Batch(
        name,
        planSha256,
        planText,
        number,
        newEntries,
        mode,
        newMemory,
        newZero,
        calibration,
        calibrationNumber,
        seatings);
  }

  /** The attempt that begins when this entry's magnet is released by the pedal. */
  Dial dial(Entry entry, Zero freshZero) {
    PlanRow row = entry.prepared().row();
    Work work =
        new Work(
            entry.magnet(),
            entry.attempts(),
            entry.asFound(),
            kind(entry),
            row.task(),
            row.poleUp(),
            row.nest(),
            entry.prepared().charge(),
            entry.prepared().knockDown(),
            entry.prepared().family(),
            entry.prepared().expectedFull(),
            entry.prepared().saturating(),
            row.alloy().coercivityJ(),
            mode,
            calibration,
            calibrationNumber,
            entry.prepared().limits(),
            row.keep(),
            row.task() instanceof Task.Demagnetise && !UnknownAlloy.is(row.alloy())
                ? Optional.of(Neutral.of(row.magnet(), row.nest().standOff()))
                : Optional.empty(),
            entry.prepared().again(),
            seatings.in(row.nest()).counted());
    return Dial.begin(work, memory, freshZero);
  }

  /**
   * What it may learn from others of: lots differ, so one learns of its own lot where the plan
   * names it. An alloy that nobody knows is the same in two magnets only where they are of one lot.
   */
  private static String kind(Entry entry) {
    PlanRow row = entry.prepared().row();
    Optional<String> alike = row.lot().map(lot -> "lot " + lot);
    return UnknownAlloy.is(row.alloy())
        ? entry.prepared().kind() + ", " + alike.orElse("magnet " + entry.magnet())
        : entry.prepared().kind() + alike.map(lot -> ", " + lot).orElse("");
  }

  /** After an attempt: its end and what it taught. */
  Batch after(Entry entry, Dial dial, Move.Finish finish) {
    RigMemory known =
        MagnetCurve.taught(dial, finish)
            .map(curve -> dial.memory().with(dial.work().kind(), curve))
            .orElse(dial.memory());
    return with(entry.ended(finish, dial.progress())).with(known);
  }

  /** The coil that must be seen to before anything is fired, in one sentence; empty if none. */
  Optional<String> coilOff() {
    return rereads() ? Optional.empty() : memory.wear().coils().sentence();
  }

  /** The event by which it is on record that a person has seen to the coil. */
  Optional<LedgerEvent> coilSeeing() {
    return coilOff().isEmpty()
        ? Optional.empty()
        : memory
            .wear()
            .coils()
            .off()
            .map(
                off ->
                    new LedgerEvent.CoilSeenTo(
                        off.carried().coil(), off.carried().full(), Math.round(off.part() * 1e6)));
  }

  /** The same, once a person has seen to the coil. */
  Batch coilSeenTo() {
    return with(memory.with(memory.wear().coilsSeenTo()));
  }

  /** With what a pulse of an earlier run, of which the head has told only now, carried. */
  Batch told(ActEvent.PulseIntent intent, ActEvent.PulseEnded ended) {
    return entries.stream()
        .flatMap(entry -> entry.prepared().source(intent.source()).stream())
        .findFirst()
        .flatMap(source -> source.carried(intent, ended))
        .map(carried -> with(memory.with(memory.wear().with(carried))))
        .orElse(this);
  }

  /** The event that begins it. */
  LedgerEvent beginning() {
    return new LedgerEvent.BatchStarted(name, planSha256, planText, entries.size());
  }

  /** The event that has it go on. */
  LedgerEvent continuing() {
    return new LedgerEvent.BatchContinued(number, open());
  }

  /** The event that ends it. */
  LedgerEvent ending(String why) {
    long refused = count(Verdict.REFUSED) + count(Verdict.RECHARGE_NEEDED);
    return new LedgerEvent.BatchEnded(number, count(Verdict.ACCEPTED), refused, open(), why);
  }
}
