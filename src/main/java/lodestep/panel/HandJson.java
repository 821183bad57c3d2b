package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Locale;
import lodestep.bench.Hand;
import lodestep.bench.HandJob;
import lodestep.bench.HandWork;
import lodestep.bench.PlanRow;
import lodestep.dial.Verdict;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;

/** One magnet worked by hand, as the page gets it. SI units, levels signed. Pure. */
final class HandJson {

  /** An approach always rises by at least the other half of the tone's whole way. */
  private static final double BEGINS_AT_MOST = 0.5;

  private HandJson() {}

  /** What changes from look to look: how much of an approach is done, and what is to be heard. */
  static void now(ObjectNode node, HandJob job) {
    HandCue cue = job.cue();
    node.put("done", cue.closeness());
    double begins = BEGINS_AT_MOST * job.hand().partDown();
    switch (cue.ask()) {
      case CLOSER -> node.put("rising", begins + (1 - begins) * cue.closeness());
      case AWAY -> node.put("past", true);
      // With all hands off the band itself is heard: whether it is inside, the page sees.
      case WAIT -> node.put("atRest", !job.hand().levels().isEmpty());
      case LEAVE_EMPTY, SEAT, CHARGE_NORTH, CHARGE_SOUTH, TAKE_OUT, LOOK -> node.put("quiet", true);
    }
  }

  /** What changes seldom. */
  static void bench(ObjectNode node, HandJob job) {
    Hand hand = job.hand();
    PlanRow row = hand.work().row();
    node.put("name", hand.name());
    node.put("magnet", hand.magnet());
    node.put("kind", row.alloy().name() + ", " + row.shape().words());
    node.put("nest", row.nest().name());
    node.put("asked", row.task().targetWords() + tolerance(row));
    node.put("fullTesla", hand.work().expectedFull().tesla());
    hand.target().ifPresent(target -> target(node, hand, target));
    hand.last()
        .ifPresent(
            last -> {
              node.put("settledTesla", last.value().tesla());
              node.put("expandedTesla", 2 * last.standardUncertainty().tesla());
            });
    ArrayNode levels = node.putArray("levels");
    hand.levels().forEach(level -> levels.add(level.tesla()));
    node.put("acts", hand.acts());
    node.put("near", near(job.cue().ask()));
    node.put("proving", job instanceof HandJob.Charging charging && charging.proving());
    if (job instanceof HandJob.Done done) {
      node.put("verdict", done.verdict() == Verdict.TRIPPED ? "open" : word(done.verdict()));
      node.put("why", done.why());
    }
  }

  private static String word(Verdict verdict) {
    return verdict.name().toLowerCase(Locale.ROOT);
  }

  private static String tolerance(PlanRow row) {
    String words = row.task().toleranceWords();
    return words.isEmpty() ? "" : " ± " + words;
  }

  private static void target(ObjectNode node, Hand hand, HandWork.Target target) {
    node.put("targetTesla", target.level().tesla());
    node.put("toleranceTesla", target.tolerance().tesla());
    node.put("south", hand.work().row().poleUp().sign() < 0);
  }

  /** Whether an opposing magnet is near, so that its stray field is in what the gauge reads. */
  private static boolean near(HandAsk ask) {
    return ask == HandAsk.CLOSER || ask == HandAsk.AWAY;
  }
}
