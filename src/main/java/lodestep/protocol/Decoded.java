package lodestep.protocol;

import java.util.function.Function;

/**
 * What one line turned out to be. Any thread, immutable.
 *
 * @param <T> frame or request
 */
public sealed interface Decoded<T> {

  /** The line was whole and understood. */
  record Message<T>(T message) implements Decoded<T> {}

  /** The line was dropped. */
  record Dropped<T>(LineFault fault) implements Decoded<T> {}

  /** One arm for each, so that none is forgotten. */
  default <R> R match(Function<T, R> message, Function<LineFault, R> dropped) {
    if (this instanceof Message<T> whole) {
      return message.apply(whole.message());
    }
    return dropped.apply(((Dropped<T>) this).fault());
  }
}
