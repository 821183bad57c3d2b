package lodestep.panel;

import java.util.List;
import java.util.Optional;
import lodestep.measure.LiveReading;
import lodestep.port.Job;
import lodestep.port.Outputs;
import lodestep.port.View;

/**
 * One look at the rig: what the newest scan came to. Any thread, immutable.
 *
 * @param run counts the program's runs: a page that was made by another one loads itself anew
 * @param view what the scan had read
 * @param driven the levels then driven
 * @param job the job as it stands
 * @param says every interlock, by its number
 * @param unmet conditions that keep a pulse from being released, in words
 * @param gauge the live reading
 * @param gaugeSays what became of the newest zero of the live reading; may be empty
 * @param zeroed whether a zero stands behind the live reading
 * @param seated whether something lies in the nest, as its contact or a drawn nest says
 * @param failed the program has found an error in itself: everything is low and stays so
 */
public record Look(
    String run,
    View view,
    Outputs driven,
    Job job,
    List<Bench.Saying> says,
    List<String> unmet,
    LiveReading gauge,
    String gaugeSays,
    boolean zeroed,
    boolean seated,
    Optional<String> failed) {

  /** The lists are kept as they are. */
  public Look {
    says = List.copyOf(says);
    unmet = List.copyOf(unmet);
  }
}
