package lodestep.config;

import java.util.List;
import java.util.Optional;

/**
 * Where the fields come from on a rig. Any thread, immutable.
 *
 * @param jigs at most one; one whenever it knocks down
 */
public record Sources(ChargeBy charge, KnockDownBy knockDown, List<JigConfig> jigs) {

  /** The pulse coil does both. */
  public static final Sources COIL = new Sources(ChargeBy.COIL, KnockDownBy.COIL, List.of());

  public Sources {
    jigs = List.copyOf(jigs);
  }

  /** The reverse jig, if there is one. */
  public Optional<JigConfig> jig() {
    return jigs.stream().findFirst();
  }
}
