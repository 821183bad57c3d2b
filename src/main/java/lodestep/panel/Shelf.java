package lodestep.panel;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lodestep.bench.Matching;
import lodestep.ledger.MagnetHistory;
import lodestep.magnet.AlloyBook;
import lodestep.paper.BuildNotes;
import lodestep.paper.LotSample;
import lodestep.paper.Papers;
import lodestep.paper.Things;
import lodestep.port.LedgerEvent;
import lodestep.port.Sheet;
import lodestep.port.Stickers;
import lodestep.voice.NoteAsked;

/**
 * What is on record of magnets, pickups, orders and lots, as the page needs it, and the paper that
 * is made of it. Any thread; may read the record or work something out, and never holds the control
 * loop up. A refusal is an {@link IllegalArgumentException} with one sentence.
 */
public interface Shelf {

  /** What is read of the record, by a connection of its own. */
  <T> T read(Function<Things, T> reading);

  /**
   * Puts an entry on record through the control loop, which alone writes, and waits until it is
   * safe.
   *
   * @return its number
   */
  default long keep(LedgerEvent event) {
    return keep(List.of(event));
  }

  /**
   * The same with entries that belong together, in one commit: all of them, or none.
   *
   * @param events at least one
   * @return the number of the last
   */
  long keep(List<LedgerEvent> events);

  /** The latest day that it can be anywhere now. */
  LocalDate latestDay();

  /** The build notes of a CSV file; read whole, or refused naming row and column. */
  List<NoteAsked.Made> notes(String csv);

  /** The next sample of this lot. */
  LotSample sample(String lot);

  /** Begins the guided reading of a pickup's pole tops, if nothing else is under way. */
  Bench.Answer readPoles(PoleOrder order);

  /** Which accepted magnets of this batch go to which of its positions. */
  Matching match(long batch);

  /** What goes on paper of this rig. */
  Papers papers();

  /** The rig's alloys. */
  AlloyBook book();

  /** A sheet as the bytes of a PDF. */
  byte[] pdf(Sheet sheet);

  /** Labels as the bytes of a PDF. */
  byte[] pdf(Stickers stickers);

  /** A history as CSV. */
  String csv(MagnetHistory history);

  /** Build notes as CSV. */
  String csv(BuildNotes notes);

  /**
   * A pickup whose pole tops are to be read.
   *
   * @param pickup its number
   * @param back whether it came back: then it is read to be held against what is on record
   * @param seat what holds it; empty for as last time
   * @param spacer between pole top and gauge; empty for as last time
   * @param virtualAmperesPerMetre on a virtual rig, an opposing field that it has seen
   */
  record PoleOrder(
      long pickup,
      boolean back,
      Optional<String> seat,
      Optional<String> spacer,
      double virtualAmperesPerMetre) {}
}
