package lodestep.interlock;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import lodestep.port.TripCause;

/** Marks a test in which the cause trips. */
@Retention(RetentionPolicy.RUNTIME)
@Target(ElementType.METHOD)
public @interface Provokes {
  /** The causes that trip in it. */
  TripCause[] value();
}
