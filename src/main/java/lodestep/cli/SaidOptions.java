package lodestep.cli;

import java.util.EnumMap;
import java.util.Map;
import lodestep.voice.PickupWords;
import lodestep.voice.Said;
import org.jspecify.annotations.Nullable;

/** Options that say something of a pickup; what is left out stays unsaid. */
abstract class SaidOptions {

  private final Map<Said, String> said = new EnumMap<>(Said.class);

  /** Called by the command line, also with nothing for an option that was left out. */
  final void say(Said field, @Nullable String words) {
    if (words == null) {
      said.remove(field);
    } else {
      said.put(field, words);
    }
  }

  PickupWords words() {
    return new PickupWords(said);
  }
}
