package lodestep.bench;

import java.util.Optional;
import lodestep.dial.Purpose;
import lodestep.dial.Task;
import lodestep.dial.Verdict;
import lodestep.measure.Acceptance;
import lodestep.measure.Judgement;
import lodestep.measure.SettledReading;
import lodestep.port.View;
import lodestep.quantity.FluxDensity;

/**
 * What follows from a settled reading: charge, come closer, prove, or the verdict. Pure.
 *
 * <p>Below means charging again, as only a charge brings back what is gone. What is demagnetised is
 * not charged but turned: the opposing magnet then comes from the other side, weaker.
 */
final class HandNext {

  /** A person who has tried so often does better to look for the cause. */
  private static final int CHARGES_MAX = 6;

  private static final int APPROACHES_MAX = 80;
  private static final int PROOFS_MAX = 6;

  /** Aims above the middle: what is missing one more approach takes, what is gone is gone. */
  private static final double GOAL_PART = 0.3;

  /** A proof may seem to move it by this many standard uncertainties of the difference. */
  private static final double PROOF_COVERAGE = 3;

  /** Less than this either way is no pole. */
  private static final double NO_POLE_TESLA = 5e-4;

  /** Less than this part of the expected full charge, a rough figure, is no charge. */
  private static final double TOOK_FRACTION = 0.4;

  private HandNext() {}

  /** What follows from the newest reading. */
  sealed interface Next {

    /** The work goes on. */
    record Goes(HandJob job) implements Next {}

    /** It is over. */
    record Ends(Verdict verdict, String why) implements Next {}
  }

  /** After the first reading. */
  static Next found(Hand hand, View view) {
    if (hand.work().charged()) {
      return charge(hand, "as found it reads " + said(hand) + ".");
    }
    if (hand.target().isEmpty()) {
      return new Next.Ends(
          Verdict.REFUSED, "it reads too little to come down so far and keep its pole");
    }
    return judged(hand, "as found it reads " + said(hand) + ".", view);
  }

  /** After an act, with the reading after it in hand. */
  static Next after(HandAct act, Hand hand, View view) {
    return switch (act.purpose()) {
      case CHARGE -> charged(hand, view);
      case KNOCK_DOWN, DEMAGNETISE -> judged(hand, "now " + said(hand) + ".", view);
      case PROOF -> proved(hand, view);
    };
  }

  private static Next charged(Hand hand, View view) {
    double along = hand.along();
    if (along < -NO_POLE_TESLA) {
      return charge(
          hand,
          said(hand) + ": it took the charge the wrong way round; turn it over between the jaws.");
    }
    if (!took(hand)) {
      return charge(
          hand,
          said(hand)
              + ": it did not take the charge; bring it fully into the jaws, or take stronger"
              + " ones.");
    }
    HandSaturation full = hand.progress().saturation();
    if (full.state() == HandSaturation.State.OPEN
        && hand.progress().counts().charges() < CHARGES_MAX) {
      Hand asked = hand.with(hand.progress().with(full.asking()));
      return new Next.Goes(new HandJob.Charging(asked, tookCharge(hand), true));
    }
    return taken(hand, tookCharge(hand), view);
  }

  /** Whether its charge did anything worth going on with. */
  private static boolean took(Hand hand) {
    return hand.target().isEmpty()
        ? hand.along() >= TOOK_FRACTION * hand.work().expectedFull().tesla()
        : judgement(hand) != Judgement.BELOW;
  }

  /** After the last charge, with no other to be asked for. */
  static Next taken(Hand hand, String news, View view) {
    if (hand.target().isEmpty()) {
      return accepted(hand, "charged");
    }
    if (judgement(hand) == Judgement.ACCEPT) {
      return accepted(hand, "inside the tolerance by its charge alone");
    }
    return approach(hand, news, view);
  }

  private static String tookCharge(Hand hand) {
    String took = said(hand) + ": it took the charge";
    return switch (hand.progress().saturation().state()) {
      case PROVEN -> took + ", and a stronger one did not move it: it is full.";
      case NOT_PROVEN -> took + "; that it is full is not proven.";
      case OPEN ->
          hand.progress().saturation().asked() == 0
              ? took + "."
              : took + ", which moved it further: it was not full before.";
    };
  }

  private static Next accepted(Hand hand, String how) {
    boolean proven = hand.progress().saturation().state() == HandSaturation.State.PROVEN;
    boolean charged = hand.progress().counts().charges() > 0;
    return new Next.Ends(
        Verdict.ACCEPTED, charged && !proven ? how + "; full charge not proven" : how);
  }

  private static Next judged(Hand hand, String news, View view) {
    return switch (judgement(hand)) {
      case ABOVE -> approach(hand, news, view);
      case BELOW -> below(hand);
      case ACCEPT ->
          hand.progress().passes().isEmpty()
              ? accepted(hand, "inside the tolerance as it was found")
              : prove(hand, news, view);
    };
  }

  private static Judgement judgement(Hand hand) {
    HandWork.Target target = hand.target().orElseThrow();
    SettledReading last = hand.progress().last().orElseThrow();
    return Acceptance.guarded(target.level(), target.tolerance())
        .judge(last.value(), hand.work().ofLevel(last));
  }

  private static Next below(Hand hand) {
    if (!hand.work().charged()) {
      return new Next.Ends(
          Verdict.RECHARGE_NEEDED, said(hand) + ": it fell below, and no charge was asked for");
    }
    return charge(hand, said(hand) + ": below; charge again.");
  }

  private static Next charge(Hand hand, String news) {
    if (hand.progress().counts().charges() >= CHARGES_MAX) {
      return new Next.Ends(
          hand.progress().counts().recharges() > 0 ? Verdict.RECHARGE_NEEDED : Verdict.REFUSED,
          CHARGES_MAX + " charges did not bring it there");
    }
    return new Next.Goes(new HandJob.Charging(hand, news, false));
  }

  private static Next approach(Hand hand, String news, View view) {
    if (hand.progress().passes().size() >= APPROACHES_MAX) {
      return new Next.Ends(
          Verdict.REFUSED,
          APPROACHES_MAX + " approaches did not bring it there; take a stronger opposing magnet");
    }
    HandWork.Target target = hand.target().orElseThrow();
    double goal = Math.abs(target.level().tesla()) + GOAL_PART * target.tolerance().tesla();
    double stop = HandAim.stopTesla(hand.progress(), hand.along(), goal);
    boolean away = hand.work().row().task() instanceof Task.Demagnetise;
    Purpose purpose = away ? Purpose.DEMAGNETISE : Purpose.KNOCK_DOWN;
    HandAct act = act(hand, purpose, "closer until the reading is pulled down by " + pull(stop));
    return new Next.Goes(HandJob.Approaching.from(hand, act, stop, news, view));
  }

  private static Next prove(Hand hand, String news, View view) {
    if (hand.progress().counts().proofs() >= PROOFS_MAX) {
      return new Next.Ends(Verdict.REFUSED, "it does not stay where it is");
    }
    double stop = HandAim.proofTesla(hand.progress());
    HandAct act =
        act(
            hand,
            Purpose.PROOF,
            "a little less near than before, until the reading is pulled down by " + pull(stop));
    Hand proving = hand.with(hand.progress().provingFrom(hand.progress().last()));
    return new Next.Goes(HandJob.Approaching.from(proving, act, stop, news, view));
  }

  private static Next proved(Hand hand, View view) {
    SettledReading after = hand.progress().last().orElseThrow();
    SettledReading before = hand.progress().beforeProof().orElseThrow();
    double moved = Math.abs(after.value().tesla() - before.value().tesla());
    double u =
        Math.hypot(after.standardUncertainty().tesla(), before.standardUncertainty().tesla());
    if (judgement(hand) == Judgement.ACCEPT && moved <= PROOF_COVERAGE * u) {
      return accepted(hand, "inside the tolerance and held by the proof, a weaker approach");
    }
    return judged(hand, "the proof moved it: now " + said(hand) + ".", view);
  }

  private static HandAct act(Hand hand, Purpose purpose, String asked) {
    return new HandAct(purpose, hand.pole() < 0, asked, hand.progress().lastValue());
  }

  /** The newest reading for a person. */
  static String said(Hand hand) {
    // By the record's own rounding, so that screen and record say the same.
    FluxDensity value = FluxDensity.ofMicroTesla(hand.progress().lastValue().microTesla());
    String level = value.magnitude().inGauss();
    if (value.magnitude().tesla() < NO_POLE_TESLA) {
      return level;
    }
    return level + (value.tesla() < 0 ? " south" : " north");
  }

  private static String pull(double tesla) {
    return new FluxDensity(tesla).inGauss();
  }

  /**
   * What the charge that is asked for next is, for the record.
   *
   * @param proving whether it is to prove the one before, by being stronger
   */
  static HandAct chargeAct(Hand hand, boolean proving) {
    boolean north = hand.pole() > 0;
    return new HandAct(
        Purpose.CHARGE,
        north,
        (proving ? "charge once more between stronger jaws" : "charge between the jaws")
            + ", gauge's face "
            + (north ? "north" : "south"),
        hand.progress().lastValue());
  }

  /** With the pass that this reading ended, as the act went. */
  static Hand learned(Hand before, Hand after, HandAct act, Optional<HandReached> reached) {
    HandProgress counted = after.progress().counting(act.purpose());
    if (act.purpose() == Purpose.CHARGE) {
      HandSaturation full = counted.saturation().after(after.along());
      return after.with(counted.cleared().with(full));
    }
    if (reached.isEmpty()) {
      return after.with(counted.cleared());
    }
    double level = before.pole() * after.progress().lastValue().tesla();
    double down = Math.max(0, before.along() - level);
    double near = Math.max(0, reached.get().nearestTesla() - down);
    HandProgress.Pass pass = new HandProgress.Pass(near, level);
    double late =
        HandAim.lateTesla(counted, pass, reached.get().stopTesla(), reached.get().nearestTesla());
    HandProgress known = counted.withPass(pass, late);
    boolean turned = act.purpose() == Purpose.DEMAGNETISE && level < 0;
    return after.with(turned ? known.turned() : known);
  }
}
