package lodestep.soak;

import lodestep.bench.BatchJob;
import lodestep.interlock.Permissive;
import lodestep.port.OutputLine;
import lodestep.scan.Snapshot;

/**
 * The second phase of a run: everything is mended, everybody but the winder goes, and one reset at
 * the rig must make it ready; then the next magnet must come to its verdict. Confined to its world.
 */
final class Recovery {

  private static final long CAUSES_GO_MS = 7_000;
  private static final long KEY_MS = 600;
  private static final long READY_WITHIN_MS = 10_000;
  private static final long COOLS_WITHIN_MS = 1_800_000;

  private final World world;
  private final Witness witness;

  Recovery(World world) {
    this.world = world;
    this.witness = world.witness();
  }

  void play() {
    world.people().calmDown();
    world.computer().mend();
    awaitEnd();
    run(20);
    stopWhatIsUnderWay();
    run(CAUSES_GO_MS);
    coolDown();
    reset();
    if (!world.over() && !ready(READY_WITHIN_MS) && !seenToTheCoil()) {
      world.broken(Law.READY_AGAIN, sentence());
    }
    workOn();
  }

  /**
   * A coil that carried another current than it used to, by a part that is mended now, waits for a
   * person of its own: the "go on" that was said of the trip does not count for it.
   */
  private boolean seenToTheCoil() {
    boolean waits =
        world.computer().host().map(Host::scan).map(scan -> scan.snapshot().job()).stream()
            .anyMatch(BatchJob.Attention.class::isInstance);
    if (waits) {
      world.sayGoOn();
    }
    return waits && ready(READY_WITHIN_MS);
  }

  /** A program that was asked to end does so before a person resets what it leaves. */
  private void awaitEnd() {
    while (!world.over() && world.computer().ending()) {
      world.step();
    }
  }

  private void stopWhatIsUnderWay() {
    if (!world.computer().batchOver()) {
      world.computer().host().ifPresent(running -> running.scan().askStop());
    }
  }

  private void coolDown() {
    long untilMs = witness.ms + COOLS_WITHIN_MS;
    while (!world.over()
        && witness.coilKelvin > witness.rig.coilKelvinMax() - 1
        && witness.ms < untilMs) {
      world.step();
    }
  }

  private void reset() {
    world.people().key(false);
    run(KEY_MS);
    world.people().key(true);
    run(KEY_MS);
    world.sayGoOn();
  }

  private boolean ready(long withinMs) {
    long untilMs = witness.ms + withinMs;
    while (!world.over() && witness.ms < untilMs) {
      if (isReady()) {
        return true;
      }
      world.step();
    }
    return world.over();
  }

  private boolean isReady() {
    return (witness.pins & Bits.READY) != 0 || world.computer().batchOver();
  }

  private void workOn() {
    if (world.over() || world.computer().batchOver()) {
      return;
    }
    world.people().begin(world.computer().open());
    long untilMs = witness.ms + world.kind().verdictWithinMs();
    int before = witness.verdicts();
    while (!world.over() && !world.computer().batchOver() && witness.verdicts() == before) {
      if (witness.ms >= untilMs || world.people().winder().gaveUp()) {
        world.broken(Law.WORKS_ON, sentence());
      }
      world.step();
    }
    run(1_000);
  }

  private String sentence() {
    OutputLine line = world.kind().energises();
    return world.computer().host().map(host -> sentence(host, line)).orElse("no program runs");
  }

  private static String sentence(Host host, OutputLine line) {
    Snapshot shown = host.scan().snapshot();
    String doing = shown.job() instanceof BatchJob job ? job.sentence() : "";
    return doing
        + shown.trip().map(trip -> "; trip: " + trip.cause().what()).orElse("")
        + "; not met: "
        + Permissive.unmet(shown.interlocks().row(), line);
  }

  private void run(long forMs) {
    long untilMs = witness.ms + forMs;
    while (!world.over() && witness.ms < untilMs) {
      world.step();
    }
  }
}
