package lodestep.config;

import java.util.List;
import java.util.function.Function;

/** Outcome of reading a rig.toml. Any thread, immutable. */
public sealed interface RigReading {

  /** The file is sound. */
  record Rig(RigConfig config) implements RigReading {}

  /**
   * The file was refused, and nothing of it is used.
   *
   * @param problems everything wrong with it, in the order of the file, at least one; each is one
   *     line {@code file:line:column: what is wrong and what to do}
   */
  record Refusal(List<String> problems) implements RigReading {
    public Refusal {
      problems = List.copyOf(problems);
    }
  }

  /** One arm per outcome, so that no caller can forget the refusal. */
  default <R> R match(Function<RigConfig, R> rig, Function<List<String>, R> refusal) {
    if (this instanceof Rig read) {
      return rig.apply(read.config());
    }
    return refusal.apply(((Refusal) this).problems());
  }
}
