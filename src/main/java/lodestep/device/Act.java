package lodestep.device;

import java.util.Optional;
import lodestep.port.ActEvent;
import lodestep.port.Outputs;
import lodestep.port.View;

/**
 * One act of a field source on the magnet in the nest, from the durable intent to its result. Pure
 * and total.
 *
 * <p>A trip is not handled here: the interlocks lower the outputs, and whoever runs the act ends it
 * with {@link #cut}.
 */
public sealed interface Act permits PulseState, StrokeState {

  /** What follows from this view. */
  ActStep step(View view);

  /** What is done now when that is not the act itself yet, for a person; empty when it is. */
  default Optional<String> aside() {
    return Optional.empty();
  }

  /** The record of the intent: on disk before anything is energised. */
  ActEvent.Intent intent();

  /** How it ended; empty while it is under way. */
  Optional<ActResult> result();

  /** The result when it is cut short by a trip or a stop. */
  ActResult cut(String why);

  /** The result by the head's report, if that is in this view: also after a trip. */
  Optional<ActResult> reported(View view);

  /** Levels at which its relays stay when it is over, until they may move: nothing energised. */
  Outputs resting();
}
