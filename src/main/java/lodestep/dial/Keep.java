package lodestep.dial;

import java.util.Optional;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.TimeSpan;

/**
 * What a magnet is to keep beside its target. Any thread, immutable.
 *
 * @param readAfter how long after its last pulse the deciding reading is taken; empty for at once
 * @param survives opposing field that must leave it as it is, above zero; empty if none is named
 */
public record Keep(Optional<TimeSpan> readAfter, Optional<FieldStrength> survives) {

  /** Neither. */
  public static final Keep NOTHING = new Keep(Optional.empty(), Optional.empty());

  /**
   * The longest wait in the nest. The gauge's zero was taken before the magnet was put in and
   * wanders by a tenth of a gauss in some minutes; a longer time is for reading again another day.
   */
  public static final TimeSpan READ_AFTER_MAX = new TimeSpan(3600);

  /** Whether anything is asked. */
  public boolean isAsked() {
    return readAfter.isPresent() || survives.isPresent();
  }
}
