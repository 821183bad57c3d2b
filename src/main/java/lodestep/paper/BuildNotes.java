package lodestep.paper;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import lodestep.ledger.LedgerEntry;
import lodestep.port.LedgerArchive;
import lodestep.port.StockEvent.BuildNoted;

/**
 * What people noted of what they made. Any thread, immutable.
 *
 * @param notes in the order in which they were written
 */
public record BuildNotes(List<Note> notes) {

  /** Another alloy counts as much as half as strong a field; a guess of ours. */
  private static final double OTHER_ALLOY = 0.5;

  private static final double OTHER_SHAPE = 1;
  private static final int SHOWN = 3;

  public BuildNotes {
    notes = List.copyOf(notes);
  }

  /** A note with its number in the record. */
  public record Note(long number, BuildNoted event) {

    /** Mean of its levels, without sign, in tesla; 0 if it has none. */
    public double meanTesla() {
      return event.levelsMicroTesla().stream()
          .mapToDouble(level -> Math.abs(level) * 1e-6)
          .average()
          .orElse(0);
    }
  }

  /**
   * What is being chosen.
   *
   * @param shape its kind: rod, bar, ring
   * @param tesla without sign, &gt; 0
   */
  public record Like(String alloy, String shape, double tesla) {}

  /** All on record; errors are the archive's. */
  public static BuildNotes of(LedgerArchive archive) {
    List<Note> notes = new ArrayList<>();
    for (LedgerEntry entry : LedgerEntry.all(archive, BuildNoted.class)) {
      notes.add(new Note(entry.number(), (BuildNoted) entry.event()));
    }
    return new BuildNotes(notes);
  }

  /** The few that come nearest, the nearest first; of two as near the newer one. */
  public List<Note> nearest(Like like) {
    return notes.stream()
        .filter(note -> note.meanTesla() > 0)
        .sorted(
            Comparator.comparingDouble((Note note) -> apart(note, like))
                .thenComparing(Comparator.comparingLong(Note::number).reversed()))
        .limit(SHOWN)
        .toList();
  }

  /** How far apart the levels are by their ratio, and what differs besides. */
  private static double apart(Note note, Like like) {
    String shape = note.event().shape().toLowerCase(Locale.ROOT);
    return Math.abs(Math.log(note.meanTesla() / like.tesla()))
        + (note.event().alloy().equalsIgnoreCase(like.alloy()) ? 0 : OTHER_ALLOY)
        + (shape.startsWith(like.shape()) ? 0 : OTHER_SHAPE);
  }

  /** Whether one says the very same, so that a file read twice adds nothing. */
  public boolean has(BuildNoted event) {
    return notes.stream().anyMatch(note -> note.event().equals(event));
  }
}
