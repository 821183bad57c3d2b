package lodestep.dial;

/**
 * An attempt on one magnet: its work, its progress, and what the rig has taught. Any thread,
 * immutable.
 *
 * @param questions how many questions this attempt has put to the planner
 */
public record Dial(Work work, Progress progress, RigMemory memory, Zero zero, long questions) {

  /** A fresh attempt. */
  public static Dial begin(Work work, RigMemory memory, Zero zero) {
    return new Dial(work, Progress.none(), memory, zero, 0);
  }

  Dial with(Progress newProgress) {
    return new Dial(work, newProgress, memory, zero, questions);
  }

  Dial with(RigMemory newMemory) {
    return new Dial(work, progress, newMemory, zero, questions);
  }

  Dial asked() {
    return new Dial(work, progress, memory, zero, questions + 1);
  }
}
