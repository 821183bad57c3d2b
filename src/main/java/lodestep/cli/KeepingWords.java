package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import lodestep.dial.Keep;
import lodestep.port.KeepingEvent.KeepingAsked;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.TimeSpan;

/** What a magnet keeps of its level, in words. */
final class KeepingWords {

  private KeepingWords() {}

  /** What a row asks for, in few words; empty if nothing. */
  static String of(Keep keep) {
    List<String> words = new ArrayList<>();
    keep.survives().ifPresent(field -> words.add("survives " + field.written()));
    keep.readAfter().ifPresent(span -> words.add("read after " + span.written()));
    return String.join(", ", words);
  }

  /** What was asked of it. */
  static String asked(KeepingAsked event) {
    List<String> words = new ArrayList<>();
    if (event.survivesAmperesPerMetre() > 0) {
      words.add(
          "to be left as it is by an opposing "
              + new FieldStrength(event.survivesAmperesPerMetre()).written());
    }
    if (event.readAfterSeconds() > 0) {
      words.add(
          "to be judged "
              + new TimeSpan(event.readAfterSeconds()).written()
              + " after its last pulse");
    }
    return String.join("; ", words);
  }
}
