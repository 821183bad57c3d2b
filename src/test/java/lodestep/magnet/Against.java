package lodestep.magnet;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/** What a test holds the model against; {@link ChecksReportTest} counts each kind apart. */
@Retention(RetentionPolicy.RUNTIME)
@Target(ElementType.METHOD)
public @interface Against {

  /** How the figures were come by. */
  Kind value();

  /** In the order of how much a figure proves. */
  enum Kind {
    /** A published figure, read in a copy of its source. */
    READ("read in the source"),
    /** A published figure, remembered of a publication that was not at hand. */
    FROM_MEMORY("from memory"),
    /** What the trade tells, with no source. */
    COMMON_PRACTICE("common practice"),
    /** A law, a general-purpose library, another program or another way of reckoning. */
    ANOTHER_WAY("by a law or another way, no figure"),
    /** A figure worked out by us, also one that the model was fitted to: a self-check. */
    COMPUTED("computed by us, a self-check");

    private final String words;

    Kind(String words) {
      this.words = words;
    }

    /** As the report says it. */
    public String words() {
      return words;
    }
  }
}
