package lodestep.dial;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.dial.Move.Finish;
import lodestep.dial.Move.Fire;
import lodestep.magnet.Neutral;
import lodestep.measure.Acceptance;
import lodestep.measure.SettledReading;
import lodestep.quantity.FieldStrength;

/**
 * Decides the next act of an attempt that is to leave a magnet uncharged, or its end. A pure
 * function of its arguments.
 *
 * @param work the magnet and its task
 * @param now what the rig has taught, and how warm its coil is
 */
record Demagnetising(Work work, RigNow now) {

  /** A magnet that is not brought to nothing by so many is not as it is taken to be. */
  private static final int AIMED_MAX = 10;

  /** Of a ladder's first field: no aimed pulse is stronger, so that the two can be told apart. */
  private static final double AIMED_PART = 0.8;

  private static final double LADDER_PART = 0.9;

  /** What to do after the newest reading. */
  Move next(Task.Demagnetise task, Progress progress, SettledReading reading) {
    if (work.knockDown().cannotDrive(true).isPresent()
        || work.knockDown().cannotDrive(false).isPresent()) {
      return toNeutral(task, progress, reading);
    }
    double coercivity = work.coercivity().amperesPerMetre();
    FieldStrength max = work.knockDown().fields(now).most();
    if (max.amperesPerMetre() < coercivity) {
      return Planner.refuse(
          "demagnetising needs more than %s; this %s reaches %s",
          work.coercivity().written(), work.knockDown().noun(), max.written());
    }
    Ladders ladders =
        new Ladders(work.saturating().amperesPerMetre(), coercivity, max.amperesPerMetre());
    Optional<Move> aimed = aimed(ladders, task, progress, reading);
    if (aimed.isPresent()) {
      return aimed.get();
    }
    int made = progress.counts().demagnetising() - byAim(ladders, progress);
    if (ladders.ended(made)) {
      double guard = Acceptance.COVERAGE * reading.standardUncertainty().tesla();
      double size = Math.abs(reading.value().tesla()) + guard;
      if (size <= task.limit().tesla()) {
        return new Finish(
            Verdict.ACCEPTED,
            made == 0 ? "uncharged as it came" : "uncharged after " + ladders.words(made));
      }
    }
    if (made >= ladders.pulsesMax()) {
      return trim(ladders, progress, reading);
    }
    boolean north =
        progress.lastMove().map(move -> !move.drivesNorth()).orElse(reading.value().tesla() < 0);
    return new Fire(Purpose.DEMAGNETISE, new FieldStrength(ladders.field(made)), north);
  }

  /** What a magnet's kind teaches of its hardness, among the rig's ratios. */
  static String lesson(Work work) {
    return "neutral point of " + work.kind();
  }

  /** Where a source's fields have gaps, a ladder's first may be weaker than what is asked of it. */
  private boolean isAimed() {
    return work.neutral().isPresent() && !work.knockDown().fields(now).isStepped();
  }

  /** Pulses before the first of a ladder, which is stronger than any that is aimed. */
  private int byAim(Ladders ladders, Progress progress) {
    if (!isAimed()) {
      return 0;
    }
    int aimed = 0;
    for (Neutral.Tried tried : progress.tried()) {
      if (aimed == AIMED_MAX
          || Math.abs(tried.field().amperesPerMetre()) > LADDER_PART * ladders.field(0)) {
        return aimed;
      }
      aimed++;
    }
    return aimed;
  }

  /**
   * By aim: the pulse that is expected to leave nothing, or the end where one has; empty where
   * nobody knows how, where a source's fields have gaps that no aim can hit, and where it has not
   * done: the ladders do without knowing.
   */
  private Optional<Move> aimed(
      Ladders ladders, Task.Demagnetise task, Progress progress, SettledReading reading) {
    int made = progress.tried().size();
    double guard = Acceptance.COVERAGE * reading.standardUncertainty().tesla();
    double size = Math.abs(reading.value().tesla()) + guard;
    if (!isAimed() || byAim(ladders, progress) < made) {
      return Optional.empty();
    }
    if (size <= task.limit().tesla()) {
      return Optional.of(
          new Finish(
              Verdict.ACCEPTED,
              made == 0
                  ? "uncharged as it came"
                  : "uncharged after " + pulses(made) + oneSided(progress)));
    }
    FieldStrength most = new FieldStrength(AIMED_PART * ladders.field(0));
    return made < AIMED_MAX
        ? work.neutral()
            .get()
            .next(
                progress.asFound().orElse(reading).value(),
                progress.tried(),
                most,
                now.memory().ratio(lesson(work)))
            .flatMap(this::fire)
        : Optional.empty();
  }

  private Optional<Move> fire(FieldStrength signed) {
    return work.knockDown()
        .fields(now)
        .atMost(new FieldStrength(Math.abs(signed.amperesPerMetre())))
        .map(field -> new Fire(Purpose.DEMAGNETISE, field, signed.amperesPerMetre() > 0));
  }

  /** What ladders of falling pulses would not have left: see {@link Neutral}. */
  private static String oneSided(Progress progress) {
    double last =
        Math.abs(progress.tried().get(progress.tried().size() - 1).field().amperesPerMetre());
    return String.format(
        Locale.ROOT,
        ", on one side: an opposing field nearly as strong as the last, %.1f kA/m, moves it again",
        last * 1e-3);
  }

  private static String pulses(int made) {
    return made == 1 ? "one aimed pulse" : made + " aimed pulses";
  }

  /**
   * A source that drives one way only comes nearer by small steps until nothing is left. Beyond the
   * neutral point it cannot bring anything back.
   */
  private Move toNeutral(Task.Demagnetise task, Progress progress, SettledReading reading) {
    double guard = Acceptance.COVERAGE * reading.standardUncertainty().tesla();
    double size = Math.abs(reading.value().tesla());
    int made = progress.counts().demagnetising();
    if (size + guard <= task.limit().tesla()) {
      return new Finish(
          Verdict.ACCEPTED,
          made == 0 ? "uncharged as it came" : "uncharged after " + made + " strokes");
    }
    boolean north = reading.value().tesla() < 0;
    Optional<String> turned = work.knockDown().cannotDrive(north);
    if (turned.isPresent()) {
      return made == 0
          ? Planner.refuse(
              "it reads %s, and %s; or turn this magnet over in its nest",
              reading.value().inGauss(), turned.get())
          : new Finish(
              Verdict.RECHARGE_NEEDED, "it went past the neutral point; charge it and begin again");
    }
    double half = Math.max(task.limit().tesla() - guard, task.limit().tesla() / 2);
    KnockDownAim aim = new KnockDownAim(work.curve(), 0, half);
    double most = work.knockDown().fields(now).most().amperesPerMetre();
    double level = Math.max(work.expectedFull().tesla(), size);
    double field =
        aim.safeStep(
            List.of(new Progress.Point(progress.largestDemagnetisingAperM(), size)), level);
    return field > most
        ? Planner.refuse(
            "it would need a reverse field of %s; this %s reaches %s",
            new FieldStrength(field).written(),
            work.knockDown().noun(),
            new FieldStrength(most).written())
        : Planner.fire(Purpose.DEMAGNETISE, field, reading);
  }

  /**
   * Small growing pulses against what the ladders left: little is left, and it comes off on one
   * side, as a level does. A source with a gap in its fields leaves more than one without.
   */
  private Move trim(Ladders ladders, Progress progress, SettledReading reading) {
    int made = progress.counts().demagnetising();
    boolean north = reading.value().tesla() < 0;
    boolean turned =
        made > ladders.pulsesMax()
            && progress.lastMove().map(move -> move.drivesNorth() != north).orElse(false);
    double field = ladders.trim(made);
    if (turned || field > ladders.trimMost()) {
      return Planner.refuse(
          "it still reads %s after %s", reading.value().inGauss(), ladders.words(made));
    }
    return new Fire(Purpose.DEMAGNETISE, new FieldStrength(field), north);
  }
}
