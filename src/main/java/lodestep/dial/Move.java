package lodestep.dial;

import java.util.function.Function;
import lodestep.quantity.FieldStrength;

/** What the planner wants next. */
public sealed interface Move {

  /**
   * A pulse.
   *
   * @param field peak at the work, &gt; 0, without sign
   * @param drivesNorth its direction
   */
  record Fire(Purpose purpose, FieldStrength field, boolean drivesNorth) implements Move {}

  /** The attempt is over. */
  record Finish(Verdict verdict, String why) implements Move {}

  /** One arm per variant. */
  default <R> R match(Function<Fire, R> fire, Function<Finish, R> finish) {
    if (this instanceof Fire f) {
      return fire.apply(f);
    }
    return finish.apply((Finish) this);
  }
}
