package lodestep.interlock;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import lodestep.port.TripCause;

/** Marks a test in which the cause only just does not trip. */
@Retention(RetentionPolicy.RUNTIME)
@Target(ElementType.METHOD)
public @interface Spares {
  /** The causes that do not trip in it. */
  TripCause[] value();
}
