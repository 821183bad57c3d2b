package lodestep.port;

import java.util.Optional;
import java.util.function.Function;

/** A tone that sounds until it is told otherwise. One thread; never blocks it. */
public interface Tone extends AutoCloseable {

  /** What sounds from now on. */
  void sound(Sound next);

  /** Why nothing is heard any more, in one sentence for a person; empty while all is well. */
  Optional<String> trouble();

  /** Falls silent and lets the device go; a third of a second at most. */
  @Override
  void close();

  /** Outcome of a try to have one. */
  sealed interface Opening {
    record Opened(Tone tone) implements Opening {}

    /**
     * There is none.
     *
     * @param why half a sentence for a person
     */
    record None(String why) implements Opening {}

    /** One arm for each outcome. */
    default <R> R match(Function<Tone, R> opened, Function<String, R> none) {
      return this instanceof Opened success
          ? opened.apply(success.tone())
          : none.apply(((None) this).why());
    }
  }
}
