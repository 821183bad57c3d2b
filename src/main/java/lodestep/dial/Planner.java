package lodestep.dial;

import java.util.Locale;
import java.util.Optional;
import lodestep.dial.Move.Finish;
import lodestep.dial.Move.Fire;
import lodestep.measure.Acceptance;
import lodestep.measure.SettledReading;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/**
 * Decides the next pulse of an attempt, or its end. A pure function of its arguments.
 *
 * <p>Knock-down is one-sided: what is gone only a new charge brings back. So every pulse is chosen
 * to end above the target, the nearer the more of this magnet's own curve is known.
 *
 * @param work the magnet and its task
 * @param zero the gauge's zero, whose uncertainty counts in every judgement
 * @param now what the rig has taught, and how warm its coil is
 */
record Planner(Work work, Zero zero, RigNow now) {

  /** First of two charges that prove a full one: the second is stronger by half (IEC 60404-5). */
  private static final double FIRST_CHARGE_FRACTION = 2.0 / 3.0;

  /** Less than this part of the expected full charge is no charge. */
  private static final double TOOK_FRACTION = 0.4;

  /**
   * A second, stronger charge that moves the reading by more than this part shows a magnet far from
   * full, whose weakest parts would not hold. Below it the level holds, and the verdict says that a
   * full charge was not proven. Configuration.
   */
  private static final double FAR_FROM_FULL_FRACTION = 0.05;

  /** New charges after falling below, before a person is asked. */
  private static final int RECHARGES_MAX = 2;

  /** The proof pulse against the largest so far: weaker, so that it must not move the magnet. */
  private static final double PROOF_FRACTION = 0.85;

  /** Proof pulses that moved the magnet, before it is refused. */
  private static final int MOVED_PROOFS_MAX = 3;

  /** The proof pulse may seem to move it by this many standard uncertainties of the difference. */
  private static final double PROOF_COVERAGE = 3.0;

  /** What to do after the newest reading. */
  Move next(Progress progress) {
    SettledReading reading =
        progress
            .last()
            .orElseThrow(() -> new IllegalStateException("the planner needs a settled reading"));
    return work.task()
        .<Move>match(
            level -> toLevel(level, progress, reading, true),
            down -> downBy(down, progress, reading),
            none -> demagnetise(none, progress, reading));
  }

  private Move downBy(Task.DownBy down, Progress progress, SettledReading reading) {
    FluxDensity asFound = work.asFoundBefore().orElse(progress.asFound().orElse(reading).value());
    if (work.pole().sign() * asFound.tesla() <= 0) {
      return refuse(
          "it reads %s where a %s face is asked; knocking down cannot turn it over",
          asFound.inGauss(), work.pole().word());
    }
    Optional<Task.ToLevel> level = down.from(asFound);
    if (level.isEmpty()) {
      return refuse(
          "it reads only %s, too little to come %s", asFound.inGauss(), down.drop().words());
    }
    return toLevel(level.get(), progress, reading, false);
  }

  private Move toLevel(
      Task.ToLevel task, Progress progress, SettledReading reading, boolean mayCharge) {
    if (mayCharge && progress.counts().charges() == 0) {
      return charge(now.memory().chargeProven().contains(work.kind()) ? 1 : FIRST_CHARGE_FRACTION);
    }
    boolean charged =
        progress.lastMove().map(move -> move.purpose() == Purpose.CHARGE).orElse(false);
    if (charged) {
      Optional<Move> unfinished = afterCharge(progress, reading);
      if (unfinished.isPresent()) {
        return unfinished.get();
      }
    }
    return approach(task, progress, reading, mayCharge);
  }

  /** The second charge, or a refusal; empty when the magnet took a full charge. */
  private Optional<Move> afterCharge(Progress progress, SettledReading reading) {
    double level = level(reading);
    if (level < TOOK_FRACTION * work.expectedFull().tesla()) {
      return Optional.of(
          refuse(
              "it did not take the charge: it reads %s where about %s is expected; see that it is"
                  + " the alloy of the plan and sits in its nest",
              reading.value().inGauss(), work.pole().signed(work.expectedFull()).inGauss()));
    }
    boolean proven = now.memory().chargeProven().contains(work.kind());
    if (proven) {
      return Optional.empty();
    }
    if (progress.counts().charges() == 1) {
      return Optional.of(charge(1));
    }
    double first = progress.firstCharge().map(this::level).orElse(level);
    if (Math.abs(level - first) <= FAR_FROM_FULL_FRACTION * level) {
      return Optional.empty();
    }
    return Optional.of(
        refuse(
            "full charge not proven: the second charge moved it from %s to %s and this rig has"
                + " nothing more; charge it by hand between stronger magnets",
            progress.firstCharge().orElse(reading).value().inGauss(), reading.value().inGauss()));
  }

  private Move approach(
      Task.ToLevel task, Progress progress, SettledReading reading, boolean mayCharge) {
    double target = work.pole().sign() * task.target().tesla();
    // Of a reading as good as this one, at the target: there the gauge's gain counts for less or
    // more.
    SettledReading there =
        new SettledReading(
            task.target(),
            reading.standardUncertainty(),
            reading.degreesOfFreedom(),
            reading.samples());
    FluxDensity u = work.calibration().counted(there, zero.gauge()).standardUncertainty();
    if (!Acceptance.canTell(task.tolerance(), u)) {
      return refuse(
          "the tolerance %s is tighter than this gauge can tell; %s is the least",
          task.tolerance().inGauss(), Acceptance.tightestTolerance(u).inGauss());
    }
    double half = Acceptance.guarded(task.target(), task.tolerance()).acceptedHalfWidthTesla(u);
    double off = level(reading) - target;
    if (Math.abs(off) <= half) {
      return inside(progress, reading);
    }
    if (off > 0) {
      return knockDown(progress, reading, target, half, mayCharge);
    }
    if (progress.points().size() <= 1 && mayCharge) {
      return refuse(
          "its full charge reads %s, below the target %s",
          reading.value().inGauss(), task.target().inGauss());
    }
    if (mayCharge && progress.counts().recharges() < RECHARGES_MAX) {
      return charge(1);
    }
    String why =
        mayCharge
            ? "it fell below the tolerance after " + RECHARGES_MAX + " new charges"
            : "it fell below the tolerance, and this row allows no charge";
    return new Finish(Verdict.RECHARGE_NEEDED, why);
  }

  private Move inside(Progress progress, SettledReading reading) {
    boolean knocked = progress.largestReverseAperM() > 0;
    if (!knocked) {
      return accepted("inside the tolerance with no knock-down", progress);
    }
    boolean proofJustMade =
        progress.lastMove().map(move -> move.purpose() == Purpose.PROOF).orElse(false);
    if (proofJustMade && progress.beforeProof().isPresent()) {
      if (held(progress.beforeProof().get(), reading)) {
        return accepted("inside the tolerance and held by the proof pulse", progress);
      }
      if (progress.counts().proofs() >= MOVED_PROOFS_MAX) {
        return refuse("weaker pulses still move it; it does not hold its level");
      }
    }
    return fire(Purpose.PROOF, progress.largestReverseAperM() * PROOF_FRACTION, reading);
  }

  private Finish accepted(String how, Progress progress) {
    boolean unproven =
        progress.counts().charges() > 0 && !now.memory().chargeProven().contains(work.kind());
    return new Finish(Verdict.ACCEPTED, unproven ? how + "; full charge not proven" : how);
  }

  /** Whether the proof pulse left the reading where it was, as far as the gauge can tell. */
  static boolean held(SettledReading before, SettledReading after) {
    double u =
        Math.hypot(before.standardUncertainty().tesla(), after.standardUncertainty().tesla());
    return Math.abs(after.value().tesla() - before.value().tesla()) <= PROOF_COVERAGE * u;
  }

  private Move knockDown(
      Progress progress, SettledReading reading, double target, double half, boolean charged) {
    KnockDownAim aim = new KnockDownAim(work.curve(), target, half, progress.counts().recharges());
    double field;
    if (work.mode() == PlannerMode.SMALL_STEPS && charged) {
      field = aim.equalStep(progress.points());
    } else if (charged) {
      field = aim.secant(progress.points());
    } else {
      field = aim.safeStep(progress.points(), work.expectedFull().tesla());
    }
    FieldStrength max = work.knockDown().fields(now).most();
    if (field > max.amperesPerMetre()) {
      return refuse(
          "it would need a reverse field of %s; this %s reaches %s",
          new FieldStrength(field).written(), work.knockDown().noun(), max.written());
    }
    return fire(Purpose.KNOCK_DOWN, field, reading);
  }

  private Move demagnetise(Task.Demagnetise task, Progress progress, SettledReading reading) {
    double coercivity = work.coercivity().amperesPerMetre();
    FieldStrength max = work.knockDown().fields(now).most();
    if (max.amperesPerMetre() < coercivity) {
      return refuse(
          "demagnetising needs more than %s; this %s reaches %s",
          work.coercivity().written(), work.knockDown().noun(), max.written());
    }
    int made = progress.counts().demagnetising();
    Ladders ladders =
        new Ladders(work.saturating().amperesPerMetre(), coercivity, max.amperesPerMetre());
    if (ladders.ended(made)) {
      double guard = Acceptance.COVERAGE * reading.standardUncertainty().tesla();
      double size = Math.abs(reading.value().tesla()) + guard;
      if (size <= task.limit().tesla()) {
        return new Finish(
            Verdict.ACCEPTED,
            made == 0 ? "uncharged as it came" : "uncharged after " + made + " falling pulses");
      }
      if (made == ladders.pulsesMax()) {
        return refuse("it still reads %s after %d falling pulses", reading.value().inGauss(), made);
      }
    }
    boolean north =
        progress.lastMove().map(move -> !move.drivesNorth()).orElse(reading.value().tesla() < 0);
    return new Fire(Purpose.DEMAGNETISE, new FieldStrength(ladders.field(made)), north);
  }

  private Move charge(double fraction) {
    if (work.charge().isEmpty()) {
      return refuse("it is to be charged, and nothing on this rig charges");
    }
    double max = work.charge().get().fields(now).most().amperesPerMetre();
    boolean north = work.pole() == PoleUp.NORTH;
    return new Fire(Purpose.CHARGE, new FieldStrength(fraction * max), north);
  }

  /** A pulse against the sign of the settled reading. */
  private static Fire fire(Purpose purpose, double fieldAperM, SettledReading reading) {
    boolean north = reading.value().tesla() < 0;
    return new Fire(purpose, new FieldStrength(fieldAperM), north);
  }

  /** The reading, positive on the pole that is asked. */
  private double level(SettledReading reading) {
    return work.pole().sign() * reading.value().tesla();
  }

  private static Finish refuse(String format, Object... args) {
    return new Finish(Verdict.REFUSED, String.format(Locale.ROOT, format, args));
  }
}
