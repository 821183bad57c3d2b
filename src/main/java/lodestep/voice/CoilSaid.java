package lodestep.voice;

import static lodestep.voice.PullTable.said;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lodestep.voice.Told.Passage;

/**
 * What is said of a pickup's coil where its magnet is asked about. Any thread, immutable.
 *
 * @param henry measured, or reckoned from its turns; empty if neither is said
 * @param reckoned whether it is from the turns
 * @param notes what becomes of what else is said of it, a sentence each
 */
public record CoilSaid(Optional<Double> henry, boolean reckoned, List<String> notes) {

  public CoilSaid {
    notes = List.copyOf(notes);
  }

  /**
   * What these words say of it.
   *
   * @throws IllegalArgumentException with one sentence, if a figure is no coil's
   */
  static CoilSaid of(PickupAsked asked, PickupWords words) {
    Optional<Double> henry = asked.henries(words);
    List<String> notes = new ArrayList<>();
    boolean wound =
        Stream.of(Said.TURNS, Said.WINDING, Said.CORES, Said.CORES_OF, Said.COUNT)
            .anyMatch(words::says);
    if (henry.isEmpty() && wound) {
      notes.add(CoilAnswer.lacking(asked.sign(), words));
    }
    if (words.says(Said.INDUCTANCE) && wound) {
      notes.add("The inductance is taken as measured; the turns are left aside.");
    }
    String left =
        Stream.of(Said.RESISTANCE, Said.CAPACITANCE, Said.LOAD)
            .filter(words::says)
            .map(Said::word)
            .collect(Collectors.joining(", "));
    if (!left.isEmpty()) {
      notes.add("Left aside here (" + left + "): they tell where the coil rings, in its answer.");
    }
    return new CoilSaid(henry, words.says(Said.TURNS) && !words.says(Said.INDUCTANCE), notes);
  }

  /**
   * Level and inductance together, and what becomes of the rest.
   *
   * @param part of the full charge, 0 to 1
   */
  List<Passage> passages(double part) {
    List<Passage> passages = new ArrayList<>();
    henry.ifPresent(
        coil -> {
          if (reckoned) {
            passages.add(
                new Passage.Sentence(
                    said(
                        "Inductance reckoned from the turns: %.2f H, good to about a fifth.",
                        coil)));
          }
          passages.add(Passage.Custom.of(LevelHeard.together(part, coil)));
        });
    notes.forEach(note -> passages.add(new Passage.Sentence(note)));
    return passages;
  }
}
