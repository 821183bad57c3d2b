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

  /** A first charge weaker than this part of the strongest proves nothing by its second. */
  private static final double LEAST_FIRST_FRACTION = 0.5;

  /** Less than this part of the expected full charge, a rough figure, is no charge. */
  private static final double TOOK_FRACTION = 0.4;

  /** Less than this part of what one of its kind reads when full is none; twice a lot's spread. */
  private static final double TOOK_OF_KIND = 0.75;

  /** Less than this part of its own first charge is none: one laid in anew reads within a tenth. */
  private static final double TOOK_OF_ITSELF = 0.9;

  /**
   * A second, stronger charge that moves the reading by more than this part shows a magnet far from
   * full, whose weakest parts would not hold. Below it the level holds, and the verdict says that a
   * full charge was not proven. Configuration.
   */
  private static final double FAR_FROM_FULL_FRACTION = 0.05;

  /** A person who has charged one magnet so often does better to look for the cause. */
  private static final int HAND_CHARGES_MAX = 4;

  /** New charges after falling below, before it is given up. */
  private static final int RECHARGES_MAX = 2;

  /** The proof pulse against the largest so far: weaker, so that it must not move the magnet. */
  private static final double PROOF_FRACTION = 0.85;

  /**
   * The same against what a nominal magnet would have needed to come down as far, where an earlier
   * attempt did it and its largest pulse is not known. Weaker, since a proof that is stronger than
   * that pulse would itself take the magnet down.
   */
  private static final double PROOF_OF_NOMINAL = 0.5;

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
    Move move = wanted(progress, reading);
    return move.match(fire -> possible(fire, progress, reading), finish -> finish);
  }

  /** A move that its source can make, or the refusal that says why it cannot. */
  private Move possible(Fire fire, Progress progress, SettledReading reading) {
    Optional<String> why =
        fire.purpose() == Purpose.CHARGE
            ? Optional.empty()
            : work.knockDown().cannotDrive(fire.drivesNorth());
    if (why.isPresent()) {
      return new Finish(Verdict.REFUSED, why.get());
    }
    return new StrokeBudget(work.knockDown())
        .objection(fire, progress, reading)
        .<Move>map(end -> end)
        .orElse(fire);
  }

  private Move wanted(Progress progress, SettledReading reading) {
    return work.task()
        .<Move>match(
            level -> toLevel(level, progress, reading, true),
            down -> downBy(down, progress, reading),
            none -> new Demagnetising(work, now).next(none, progress, reading),
            full -> fullCharge(progress, reading));
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
      return firstCharge();
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

  private Move fullCharge(Progress progress, SettledReading reading) {
    if (progress.counts().charges() == 0) {
      return firstCharge();
    }
    Optional<Move> unfinished =
        progress.rested() ? Optional.empty() : afterCharge(progress, reading);
    return unfinished.orElseGet(() -> charged(progress, reading));
  }

  /** Charged as hard as the rig can: full, if it can tell; what it reads is what was asked for. */
  private Move charged(Progress progress, SettledReading reading) {
    boolean proven = now.memory().chargeProven(work.kind());
    if (!proven && progress.counts().charges() > 1) {
      return refuse(
          "full charge not proven: the second charge moved it from %s to %s, more than %s",
          progress.firstCharge().orElse(reading).value().inGauss(),
          reading.value().inGauss(),
          Percent.words(Task.FullCharge.MOVED_FRACTION));
    }
    return accepted(progress.rested() ? "charged, and read after its rest" : "charged", progress);
  }

  /** The second charge, or a refusal; empty when the magnet took a full charge. */
  private Optional<Move> afterCharge(Progress progress, SettledReading reading) {
    double level = level(reading);
    boolean again = work.charge().isEmpty() && progress.counts().charges() < HAND_CHARGES_MAX;
    if (!took(work, progress, now.memory(), level) && again) {
      return Optional.of(charge(Optional.empty()));
    }
    if (!took(work, progress, now.memory(), level)) {
      double full =
          now.memory().chargeProven().getOrDefault(work.kind(), work.expectedFull().tesla());
      return Optional.of(
          refuse(
              "it did not take the charge: it reads %s where about %s is expected; see that it is"
                  + " the alloy of the plan and sits in its nest",
              reading.value().inGauss(), work.pole().signed(new FluxDensity(full)).inGauss()));
    }
    boolean proven = now.memory().chargeProven(work.kind());
    if (proven) {
      return Optional.empty();
    }
    if (work.charge().isPresent() && weakerCharge().isEmpty()) {
      return Optional.empty();
    }
    if (progress.counts().charges() == 1) {
      return Optional.of(charge(Optional.empty()));
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

  /**
   * Whether a magnet that reads so took its newest charge at all. A charge by hand may have been
   * left undone: then it reads what was left of the last one. What cannot be told so is the second
   * of two charges that prove a full one, since a full magnet reads the same with it and without.
   */
  static boolean took(Work work, Progress progress, RigMemory memory, double levelTesla) {
    double ofKind = TOOK_OF_KIND * memory.chargeProven().getOrDefault(work.kind(), 0.0);
    double least = Math.max(TOOK_FRACTION * work.expectedFull().tesla(), ofKind);
    boolean again = work.charge().isEmpty() && progress.counts().charges() > 1;
    double itself =
        progress
            .firstCharge()
            .filter(first -> again)
            .map(first -> TOOK_OF_ITSELF * work.pole().sign() * first.value().tesla())
            .orElse(0.0);
    return levelTesla >= Math.max(least, itself);
  }

  private Move approach(
      Task.ToLevel task, Progress progress, SettledReading reading, boolean mayCharge) {
    double target = work.pole().sign() * task.target().tesla();
    FluxDensity u = atTarget(task, reading);
    if (!Acceptance.canTell(task.tolerance(), u)) {
      return refuse(
          "the tolerance %s is tighter than this gauge can tell; %s is the least",
          task.tolerance().inGauss(), Acceptance.tightestTolerance(u).inGauss());
    }
    Optional<Expectation> expected =
        mayCharge && work.mode() == PlannerMode.CURVE
            ? Optional.of(Expectation.of(work, now, progress, reading))
            : Optional.empty();
    // What the curve said before the rest knows nothing of what time has taken since.
    double stands =
        expected
            .filter(known -> !progress.rested())
            .map(known -> known.level().tesla())
            .orElse(level(reading));
    double half = Acceptance.guarded(task.target(), task.tolerance()).acceptedHalfWidthTesla(u);
    double off = stands - target;
    Approach approach = new Approach(work, now, progress, reading, target, half);
    if (Math.abs(off) <= half) {
      Optional<Move> hardened = approach.hardening(expected);
      return remarked(hardened.orElseGet(() -> inside(progress, reading)), expected);
    }
    if (off < 0) {
      return remarked(below(task, progress, reading, mayCharge), expected);
    }
    Move next =
        expected
            .map(approach::by)
            .orElseGet(() -> mayCharge ? approach.inSmallSteps() : approach.carefully());
    return remarked(next, expected);
  }

  /**
   * Standard uncertainty of a level told by a reading as good as this one, at the target: there the
   * gauge's gain and the seating count for less or more, and noise that grows with the level for
   * less.
   */
  private FluxDensity atTarget(Task.ToLevel task, SettledReading reading) {
    double nearer = Math.min(1, Math.abs(task.target().tesla() / reading.value().tesla()));
    SettledReading there =
        new SettledReading(
            task.target(),
            new FluxDensity(reading.standardUncertainty().tesla() * nearer),
            reading.degreesOfFreedom(),
            reading.samples());
    return work.ofLevel(work.calibration().counted(there, zero.gauge()));
  }

  /** A verdict says what is odd about the magnet, or about the rig. */
  private static Move remarked(Move move, Optional<Expectation> expected) {
    Optional<String> remark = expected.flatMap(Expectation::remark);
    return move.match(
        fire -> fire,
        finish ->
            remark
                .map(how -> new Finish(finish.verdict(), finish.why() + "; " + how))
                .orElse(finish));
  }

  private Move below(
      Task.ToLevel task, Progress progress, SettledReading reading, boolean mayCharge) {
    if (progress.points().size() <= 1 && mayCharge) {
      return refuse(
          "its full charge reads %s, below the target %s",
          reading.value().inGauss(), task.target().inGauss());
    }
    if (mayCharge && progress.counts().recharges() < RECHARGES_MAX) {
      return charge(Optional.empty());
    }
    String why =
        mayCharge
            ? "it fell below the tolerance after " + RECHARGES_MAX + " new charges"
            : "it fell below the tolerance, and this row allows no charge";
    return new Finish(Verdict.RECHARGE_NEEDED, why);
  }

  private Move inside(Progress progress, SettledReading reading) {
    double largest = progress.largestReverseAperM();
    double proof = largest > 0 ? PROOF_FRACTION * largest : ofEarlierAttempt(reading);
    if (progress.rested()) {
      return accepted("inside the tolerance after its rest", progress);
    }
    if (proof == 0) {
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
    FieldStrength weaker = new FieldStrength(proof);
    return work.knockDown().fields(now) instanceof Fields.Levels levels
            && levels.atMost(weaker).isEmpty()
        ? accepted("inside the tolerance; no weaker pulse is left to prove it", progress)
        : fire(Purpose.PROOF, weaker.amperesPerMetre(), reading);
  }

  /**
   * The field of a proof for what an earlier attempt, that a trip or a crash has ended, brought
   * down; 0 if the magnet reads as it was found then.
   */
  private double ofEarlierAttempt(SettledReading reading) {
    double found = work.asFoundBefore().map(this::level).orElse(0.0);
    double u = Math.sqrt(2) * reading.standardUncertainty().tesla();
    boolean broughtDown = found - level(reading) > PROOF_COVERAGE * u;
    double full = Math.max(found, work.expectedFull().tesla());
    return broughtDown ? PROOF_OF_NOMINAL * work.curve().fieldFor(level(reading) / full) : 0;
  }

  private Finish accepted(String how, Progress progress) {
    boolean unproven = progress.counts().charges() > 0 && !now.memory().chargeProven(work.kind());
    return new Finish(Verdict.ACCEPTED, unproven ? how + "; full charge not proven" : how);
  }

  /** Whether the proof pulse left the reading where it was, as far as the gauge can tell. */
  static boolean held(SettledReading before, SettledReading after) {
    double u =
        Math.hypot(before.standardUncertainty().tesla(), after.standardUncertainty().tesla());
    return Math.abs(after.value().tesla() - before.value().tesla()) <= PROOF_COVERAGE * u;
  }

  /** The first charge: the weaker of two that prove a full one, where there is need and a way. */
  private Move firstCharge() {
    boolean proven = now.memory().chargeProven(work.kind());
    return charge(proven ? Optional.empty() : weakerCharge());
  }

  /** A charge weaker by a third than the strongest; empty of a source that has none between. */
  private Optional<FieldStrength> weakerCharge() {
    if (work.charge().isEmpty()) {
      return Optional.empty();
    }
    Fields fields = work.charge().get().fields(now);
    double most = fields.most().amperesPerMetre();
    return fields
        .atMost(new FieldStrength(FIRST_CHARGE_FRACTION * most))
        .filter(field -> field.amperesPerMetre() >= LEAST_FIRST_FRACTION * most);
  }

  private Move charge(Optional<FieldStrength> weaker) {
    if (work.charge().isEmpty()) {
      return work.chargeByHand();
    }
    FieldStrength most = work.charge().get().fields(now).most();
    if (weakerCharge().isEmpty() && most.compareTo(work.saturating()) < 0) {
      return refuse(
          "its full charge needs a field of %s; this %s reaches %s; charge it by hand between"
              + " stronger magnets",
          work.saturating().written(), work.charge().get().noun(), most.written());
    }
    return new Fire(Purpose.CHARGE, weaker.orElse(most), work.pole() == PoleUp.NORTH);
  }

  /** A pulse against the sign of the settled reading. */
  static Fire fire(Purpose purpose, double fieldAperM, SettledReading reading) {
    boolean north = reading.value().tesla() < 0;
    return new Fire(purpose, new FieldStrength(fieldAperM), north);
  }

  /** The reading, positive on the pole that is asked. */
  private double level(SettledReading reading) {
    return level(reading.value());
  }

  private double level(FluxDensity reading) {
    return work.pole().sign() * reading.tesla();
  }

  /** A verdict with its sentence. */
  static Finish refuse(String format, Object... args) {
    return new Finish(Verdict.REFUSED, String.format(Locale.ROOT, format, args));
  }
}
