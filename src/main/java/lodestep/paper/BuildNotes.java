package lodestep.paper;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lodestep.ledger.LedgerEntry;
import lodestep.port.LedgerArchive;
import lodestep.port.StockEvent.BuildDescribed;
import lodestep.port.StockEvent.BuildNoted;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Nearest;

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

  /**
   * A note with its number in the record.
   *
   * @param described how the pickup is built; empty if nobody said
   */
  public record Note(long number, BuildNoted event, Optional<BuildDescribed> described) {

    /** It in words for a person, without its day. */
    public String words() {
      StringBuilder words = new StringBuilder(event.name());
      words.append(event.position().isEmpty() ? "" : ", " + event.position());
      words.append(": " + event.alloy() + " " + event.shape() + " " + event.size());
      words.append(", " + levels());
      words.append(
          event.toleranceMicroTesla() > 0
              ? " ± " + FluxDensity.ofMicroTesla(event.toleranceMicroTesla()).inGauss()
              : "");
      words.append(
          event.inductanceMicroHenries() > 0
              ? String.format(Locale.ROOT, "; coil %.2f H", event.inductanceMicroHenries() * 1e-6)
              : "");
      described.ifPresent(how -> words.append(how(how)));
      words.append(event.set().isEmpty() ? "" : "; set " + event.set());
      words.append(event.pickup() > 0 ? "; pickup " + event.pickup() : "");
      words.append(event.certificate() > 0 ? "; certificate " + event.certificate() : "");
      words.append(event.liked().isEmpty() ? "" : "; liked by " + event.liked());
      words.append(event.said().isEmpty() ? "" : "; " + event.said());
      return words.append("; entry " + number + ".").toString();
    }

    private String levels() {
      return event.levelsMicroTesla().stream()
          .map(level -> FluxDensity.ofMicroTesla(level).inGauss())
          .collect(Collectors.joining("; "));
    }

    private static String how(BuildDescribed how) {
      return (how.standOff().isEmpty() ? "" : "; read " + how.standOff() + " off the face")
          + (how.poles().isEmpty() ? "" : "; poles " + how.poles())
          + (how.distance().isEmpty() ? "" : "; strings " + how.distance() + " above")
          + (how.strings().isEmpty() ? "" : "; strings " + how.strings());
    }

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
    List<LedgerEntry> entries = new ArrayList<>(LedgerEntry.all(archive, BuildNoted.class));
    entries.addAll(LedgerEntry.all(archive, BuildDescribed.class));
    return of(entries);
  }

  /** Those among these entries; a description belongs to the next note of its name and position. */
  static BuildNotes of(List<LedgerEntry> entries) {
    List<LedgerEntry> ordered = new ArrayList<>(entries);
    ordered.sort(Comparator.comparingLong(LedgerEntry::number));
    Map<List<String>, BuildDescribed> waiting = new HashMap<>();
    List<Note> notes = new ArrayList<>();
    for (LedgerEntry entry : ordered) {
      if (entry.event() instanceof BuildDescribed how) {
        waiting.put(List.of(how.name(), how.position()), how);
      } else if (entry.event() instanceof BuildNoted note) {
        Optional<BuildDescribed> how =
            Optional.ofNullable(waiting.remove(List.of(note.name(), note.position())));
        notes.add(new Note(entry.number(), note, how));
      }
    }
    return new BuildNotes(notes);
  }

  /**
   * The newest of this name; its position may be added after a comma.
   *
   * @throws IllegalArgumentException with one sentence, if there is none
   */
  public Note like(String written) {
    String wanted = written.strip();
    return notes.stream()
        .filter(
            note ->
                note.event().name().equalsIgnoreCase(wanted)
                    || (note.event().name() + ", " + note.event().position())
                        .equalsIgnoreCase(wanted))
        .reduce((older, newer) -> newer)
        .orElseThrow(
            () -> {
              List<String> names =
                  notes.stream().map(note -> note.event().name()).distinct().toList();
              return new IllegalArgumentException(
                  names.isEmpty()
                      ? "no build is noted yet"
                      : "no build '" + wanted + "' is noted" + Nearest.hint(wanted, names));
            });
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

  /**
   * Whether a note is on record already, so that a file read twice adds nothing. What was edited in
   * it, also of the description, makes it another note; a file that does not describe the pickup
   * edits nothing.
   */
  public boolean knows(BuildNoted note, Optional<BuildDescribed> described) {
    return notes.stream()
        .anyMatch(
            known ->
                known.event().equals(note)
                    && (described.isEmpty() || known.described().equals(described)));
  }

  /** The newest note of what this set became that describes how it is built; empty if none. */
  public Optional<Note> ofSet(String set) {
    return notes.stream()
        .filter(note -> note.event().set().equalsIgnoreCase(set.strip()))
        .filter(note -> note.described().isPresent())
        .reduce((older, newer) -> newer);
  }
}
