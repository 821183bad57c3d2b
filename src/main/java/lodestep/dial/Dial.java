package lodestep.dial;

import lodestep.port.ActEvent;
import lodestep.port.View;

/**
 * An attempt on one magnet: its work, its progress, and what the rig has taught. Any thread,
 * immutable.
 *
 * @param questions how many questions this attempt has put to the planner
 * @param even whether the magnet was seen to be as warm as its nest
 */
public record Dial(
    Work work, Progress progress, RigMemory memory, Zero zero, long questions, boolean even) {

  /** A fresh attempt. */
  public static Dial begin(Work work, RigMemory memory, Zero zero) {
    return new Dial(work, Progress.none(), memory, zero, 0, false);
  }

  Dial with(Progress newProgress) {
    return new Dial(work, newProgress, memory, zero, questions, even);
  }

  Dial with(RigMemory newMemory) {
    return new Dial(work, progress, newMemory, zero, questions, even);
  }

  /** With what this scan tells of the rig's wear. */
  Dial seen(View view) {
    return view.proof().map(proof -> with(memory.with(memory.wear().with(proof)))).orElse(this);
  }

  /** With what an act of this attempt carried. */
  Dial ended(FieldSource source, ActEvent.Intent intent, ActEvent.ActEnded ended) {
    return source
        .carried(intent, ended)
        .map(carried -> with(memory.with(memory.wear().with(carried))))
        .orElse(this);
  }

  Dial asked() {
    return new Dial(work, progress, memory, zero, questions + 1, even);
  }

  /** With a magnet that is as warm as its nest. */
  Dial evened() {
    return new Dial(work, progress, memory, zero, questions, true);
  }
}
