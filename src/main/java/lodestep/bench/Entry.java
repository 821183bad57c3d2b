package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.RigConfig;
import lodestep.dial.Keep;
import lodestep.dial.Move;
import lodestep.dial.Progress;
import lodestep.dial.RecordedShape;
import lodestep.dial.Verdict;
import lodestep.port.KeepingEvent;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;

/**
 * One magnet of a running batch. Any thread, immutable.
 *
 * @param magnet its identity: the ledger number that named it; 0 until it is named
 * @param attempts begun so far
 * @param asFound its first reading ever, signed
 * @param end how the last attempt ended; empty while none has
 * @param result the attempt's progress at its end
 */
public record Entry(
    Prepared prepared,
    int ordinal,
    long magnet,
    long attempts,
    Optional<FluxDensity> asFound,
    Optional<Move.Finish> end,
    Optional<Progress> result) {

  /** A magnet that has not been named yet. */
  public static Entry planned(Prepared prepared, int ordinal) {
    return new Entry(prepared, ordinal, 0, 0, Optional.empty(), Optional.empty(), Optional.empty());
  }

  /** Every magnet of these rows on this rig, in the order of work; some milliseconds a row. */
  public static List<Entry> planned(List<PlanRow> rows, RigConfig rig) {
    List<Entry> entries = new ArrayList<>();
    for (PlanRow row : rows) {
      Prepared prepared = Prepared.of(row, rig);
      for (int ordinal = 1; ordinal <= row.count(); ordinal++) {
        entries.add(planned(prepared, ordinal));
      }
    }
    return entries;
  }

  /** Its name, alone in the plan. */
  public String name() {
    return prepared.row().nameOf(ordinal);
  }

  /** Whether it has a verdict that stands: anything but a trip. */
  public boolean done() {
    return end.isPresent() && end.get().verdict() != Verdict.TRIPPED;
  }

  Entry named(long number) {
    return new Entry(prepared, ordinal, number, attempts, asFound, end, result);
  }

  Entry begun() {
    return new Entry(
        prepared, ordinal, magnet, attempts + 1, asFound, Optional.empty(), Optional.empty());
  }

  Entry ended(Move.Finish finish, Progress progress) {
    Optional<FluxDensity> found =
        asFound.isPresent() ? asFound : progress.asFound().map(reading -> reading.value());
    return new Entry(
        prepared, ordinal, magnet, attempts, found, Optional.of(finish), Optional.of(progress));
  }

  /**
   * The event that says what it is to keep, if anything is asked.
   *
   * @param number its own, if it is not named yet
   */
  Optional<LedgerEvent> keeping(long number) {
    Keep keep = prepared.row().keep();
    return keep.isAsked()
        ? Optional.of(
            new KeepingEvent.KeepingAsked(
                number,
                keep.readAfter().map(span -> Math.round(span.seconds())).orElse(0L),
                keep.survives().map(field -> Math.round(field.amperesPerMetre())).orElse(0L)))
        : Optional.empty();
  }

  /** The event that names it. */
  LedgerEvent naming(long batch) {
    return naming(prepared.row(), ordinal, batch);
  }

  /**
   * The event that names a magnet of this row.
   *
   * @param batch number of the batch's event; 0 when it is worked in no batch
   */
  static LedgerEvent.MagnetNamed naming(PlanRow row, int ordinal, long batch) {
    Asked asked = Asked.of(row.task());
    return new LedgerEvent.MagnetNamed(
        batch,
        row.nameOf(ordinal),
        row.line(),
        ordinal,
        row.set().orElse(""),
        row.lot().orElse(""),
        row.alloy().name(),
        RecordedShape.words(row.shape()),
        RecordedShape.sizesMicroMetres(row.shape()),
        row.nest().name(),
        row.poleUp().word(),
        row.task().word(),
        asked.targetMicroTesla(),
        asked.dropMicroTesla(),
        asked.dropPartsPerMillion(),
        asked.toleranceMicroTesla(),
        asked.tolerancePartsPerMillion(),
        asked.unchargedMicroTesla());
  }
}
