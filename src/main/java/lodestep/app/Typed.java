package lodestep.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Predicate;
import lodestep.port.Command;
import org.tinylog.Logger;

/**
 * What a person types while a batch runs on a real rig: one word a line. A typed word can stop,
 * wait or end; it starts nothing, as that takes key and pedal at the bench.
 */
record Typed(Predicate<Command> offer, Consumer<String> says) {

  /** What can be typed, in one line for a person. */
  static final String WORDS =
      "While it runs, type: stop, pause, continue (after a trip and the arm key), or finish.";

  /** Reads to the end of the input, on a thread of its own that keeps no program alive. */
  void listenTo(BufferedReader lines) {
    Thread reader = new Thread(() -> readAll(lines), "typed");
    reader.setDaemon(true);
    reader.start();
  }

  /** Takes every line to the end. */
  void readAll(BufferedReader lines) {
    try {
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        take(line.strip());
      }
    } catch (IOException ended) {
      Logger.info(ended, "nothing more can be typed");
    }
  }

  private void take(String word) {
    if (word.isEmpty()) {
      return;
    }
    Optional<Command> command = meant(word);
    boolean taken = command.isPresent() && offer.test(command.get());
    if (!taken) {
      says.accept(command.isPresent() ? "'" + word + "' was not taken; type it again" : WORDS);
    }
  }

  private static Optional<Command> meant(String word) {
    for (Command command : Command.values()) {
      if (command.name().toLowerCase(Locale.ROOT).equals(word.toLowerCase(Locale.ROOT))) {
        return Optional.of(command);
      }
    }
    return Optional.empty();
  }
}
