package lodestep.dial;

import java.util.Optional;
import lodestep.measure.SettledReading;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/**
 * The next knock-down of a magnet that stands above its accepted band, or the refusal that says why
 * there is none. A pure function of its arguments.
 *
 * @param targetTesla positive
 * @param halfTesla half width of the accepted band, &gt; 0
 */
record Approach(
    Work work,
    RigNow now,
    Progress progress,
    SettledReading reading,
    double targetTesla,
    double halfTesla) {

  /** By what is expected of this magnet. */
  Move by(Expectation expectation) {
    BeliefAim aim = aim(expectation);
    Optional<Move> outOfReach = outOfReach(aim.wanted());
    if (outOfReach.isPresent()) {
      return outOfReach.get();
    }
    Optional<FieldStrength> fits = fits(aim.wanted());
    Optional<Move> survived = surviving(aim, fits);
    if (survived.isPresent()) {
      return survived.get();
    }
    Optional<FieldStrength> next = next(fits.orElse(last()));
    boolean beyond =
        next.filter(field -> aim.lowestAfter(field) >= targetTesla - halfTesla).isPresent();
    boolean shortOf = fits.isEmpty() || aim.expectedAfter(fits.get()) > targetTesla + halfTesla;
    if (source().isStepped() && beyond && shortOf) {
      return knockDown(next.get());
    }
    if (fits.isPresent()) {
      return knockDown(fits.get());
    }
    // The least growth there is, of a source without steps: it stands above the band all the same.
    return next.isPresent() && !source().isStepped() && progress.points().size() > 1
        ? knockDown(next.get())
        : none(next, next.map(aim::lowestAfter).orElse(0.0));
  }

  /**
   * The pulse as strong as the field that the magnet is to survive, where that is the last one
   * needed; or the refusal, where that field alone takes it below.
   *
   * @param fits what would be fired without
   */
  private Optional<Move> surviving(BeliefAim aim, Optional<FieldStrength> fits) {
    Optional<FieldStrength> needed =
        Kept.needed(work, now)
            .filter(field -> fits.isEmpty() || field.compareTo(fits.get()) > 0)
            .filter(field -> field.compareTo(last()) > 0);
    if (needed.isEmpty()) {
      return Optional.empty();
    }
    if (needed.get().compareTo(source().most()) > 0) {
      return outOfReach(needed.get());
    }
    double lowest = targetTesla - halfTesla;
    if (aim.highestAfter(needed.get()) < lowest) {
      return Optional.of(
          tooSoft(needed.get(), aim.expectedAfter(needed.get()), "is expected to take it"));
    }
    return Kept.aimed(needed.get(), source())
        .filter(can -> aim.lowestAfter(can) >= lowest)
        .map(this::knockDown);
  }

  /**
   * For a magnet that stands inside: the pulse that makes it survive what is asked, or the refusal
   * because that might take it below; empty if it has had one, or none is asked.
   */
  Optional<Move> hardening(Optional<Expectation> expectation) {
    Optional<FieldStrength> needed =
        Kept.needed(work, now).filter(field -> field.compareTo(last()) > 0);
    if (needed.isEmpty()) {
      return Optional.empty();
    }
    Optional<FieldStrength> can = Kept.aimed(needed.get(), source());
    if (can.isEmpty()) {
      return Optional.of(
          Planner.refuse(
              "to survive what is asked it needs a reverse field of %s; this %s reaches %s",
              needed.get().written(), work.knockDown().noun(), source().most().written()));
    }
    double full = work.expectedFull().tesla();
    double lowest =
        expectation
            .map(known -> aim(known).lowestAfter(can.get()))
            .orElseGet(
                () -> plain().lowestAfter(can.get().amperesPerMetre(), progress.points(), full));
    return Optional.of(
        lowest >= targetTesla - halfTesla
            ? knockDown(can.get())
            : tooSoft(needed.get(), lowest, "may take it"));
  }

  private Move tooSoft(FieldStrength needed, double tesla, String how) {
    String asked = work.keep().survives().orElseThrow().written();
    return Planner.refuse(
        "this level and what it is to survive cannot both be had: to survive %s it must have had"
            + " %s, as the field is not known better, which %s down to %s; ask for a lower level,"
            + " or for a weaker field than %s",
        asked,
        needed.written(),
        how,
        work.pole().signed(new FluxDensity(Math.max(0, tesla))).inGauss(),
        asked);
  }

  private BeliefAim aim(Expectation expectation) {
    MagnetBelief belief = expectation.belief();
    FieldStrength near = new FieldStrength(belief.fieldLeaving(targetTesla, 0, 0));
    double delivered = work.knockDown().doubt(near, now).delivered();
    double read = MagnetBelief.readingUncertainty(targetTesla);
    return new BeliefAim(belief, targetTesla, halfTesla, read, delivered);
  }

  /** In equal small steps. */
  Move inSmallSteps() {
    KnockDownAim aim = plain();
    return stepwise(new FieldStrength(aim.equalStep(progress.points())), aim);
  }

  /** Of a magnet of which nobody knows how it came to stand where it stands. */
  Move carefully() {
    KnockDownAim aim = plain();
    double full = work.expectedFull().tesla();
    return stepwise(new FieldStrength(aim.safeStep(progress.points(), full)), aim);
  }

  private KnockDownAim plain() {
    return new KnockDownAim(work.curve(), targetTesla, halfTesla);
  }

  private Move stepwise(FieldStrength wanted, KnockDownAim aim) {
    Optional<Move> outOfReach = outOfReach(wanted);
    if (outOfReach.isPresent()) {
      return outOfReach.get();
    }
    Optional<FieldStrength> fits = fits(wanted);
    if (fits.isPresent()) {
      return knockDown(fits.get());
    }
    // The next step is longer than was wanted: taken if even its worst end is inside.
    Optional<FieldStrength> next = next(last());
    double full = work.expectedFull().tesla();
    double lowest =
        next.map(field -> aim.lowestAfter(field.amperesPerMetre(), progress.points(), full))
            .orElse(0.0);
    return next.isPresent() && lowest >= targetTesla - halfTesla
        ? knockDown(next.get())
        : none(next, lowest);
  }

  private Fields source() {
    return work.knockDown().fields(now);
  }

  private FieldStrength last() {
    return new FieldStrength(progress.largestReverseAperM());
  }

  private Optional<FieldStrength> next(FieldStrength above) {
    return source().above(above);
  }

  /** The strongest field not above the wanted one that does more than the last did. */
  private Optional<FieldStrength> fits(FieldStrength wanted) {
    Optional<FieldStrength> next = next(last());
    return source()
        .atMost(wanted)
        .filter(can -> next.isPresent() && can.compareTo(next.get()) >= 0);
  }

  private Optional<Move> outOfReach(FieldStrength wanted) {
    FieldStrength most = source().most();
    return wanted.compareTo(most) > 0
        ? Optional.of(
            Planner.refuse(
                "it would need a reverse field of %s; this %s reaches %s",
                wanted.written(), work.knockDown().noun(), most.written()))
        : Optional.empty();
  }

  private Move knockDown(FieldStrength field) {
    return Planner.fire(Purpose.KNOCK_DOWN, field.amperesPerMetre(), reading);
  }

  private Move none(Optional<FieldStrength> next, double lowestTesla) {
    if (next.isEmpty()) {
      return Planner.refuse("this %s has no stronger field left", work.knockDown().noun());
    }
    return Planner.refuse(
        "no step of this %s ends inside the tolerance: it reads %s, and the next field, %s, may"
            + " take it down to %s; ask for another level or a wider tolerance",
        work.knockDown().noun(),
        reading.value().inGauss(),
        next.get().written(),
        work.pole().signed(new FluxDensity(Math.max(0, lowestTesla))).inGauss());
  }
}
