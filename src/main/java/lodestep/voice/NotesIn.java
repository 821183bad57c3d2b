package lodestep.voice;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.paper.BuildNotes;
import lodestep.paper.Things;
import lodestep.port.LedgerEvent;

/**
 * Build notes out of a file that are not on record yet. Any thread, immutable.
 *
 * @param fresh each once, with the links that lead to something here
 */
public record NotesIn(List<NoteAsked.Here> fresh) {

  public NotesIn {
    fresh = List.copyOf(fresh);
  }

  /**
   * Those of these that are new.
   *
   * @param known what is on record
   * @param things on record; empty where there is no record yet
   */
  public static NotesIn of(List<NoteAsked.Made> read, BuildNotes known, Optional<Things> things) {
    return new NotesIn(
        read.stream()
            .map(made -> NoteAsked.Here.of(made, things))
            .distinct()
            .filter(each -> !known.knows(each.made().note(), each.made().described()))
            .toList());
  }

  /** All of them for one commit: after a cut either every one is there, or none. */
  public List<LedgerEvent> events() {
    return fresh.stream().flatMap(each -> each.made().events().stream()).toList();
  }

  /** How many there are, and a sentence for each that leads to nothing here. */
  public List<String> sentences() {
    List<String> sentences = new ArrayList<>();
    sentences.add(fresh.size() + (fresh.size() == 1 ? " new note" : " new notes"));
    for (NoteAsked.Here each : fresh) {
      if (!each.missing().isEmpty()) {
        sentences.add(
            each.made().note().name()
                + ": not found here, so that the note is not linked to it: "
                + String.join(", ", each.missing()));
      }
    }
    return sentences;
  }
}
