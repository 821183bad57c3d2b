package lodestep.device;

import java.util.Optional;
import lodestep.port.LedgerEvent;
import lodestep.port.View;
import lodestep.quantity.FieldStrength;

/** How an act ended. Any thread, immutable. */
public sealed interface ActResult permits ShotResult {

  /** Its end, in the words of the record. */
  Outcome outcome();

  /** One sentence when it was not delivered; else empty. */
  String why();

  /** Peak field at the work as delivered, without sign; zero when nothing was measured. */
  FieldStrength field();

  /** What it teaches of its source, when it was delivered. */
  Optional<Lesson> lesson();

  /** The record of the end, with the temperatures of this view. */
  LedgerEvent.ActEnded entry(View view);

  /**
   * How a source answers.
   *
   * @param of which answer: a source, or a range of it
   * @param measured what was measured, &gt; 0
   * @param expected what was expected with all that was known of the source before, &gt; 0
   */
  record Lesson(String of, double measured, double expected) {}
}
