package lodestep.magnet;

import lodestep.quantity.FieldStrength;

/**
 * A magnet standing by itself: its alloy's loop on the load line of its shape. Any thread,
 * immutable.
 *
 * <p>The field inside is H = Ha − N J(H)/µ0, the same everywhere in the magnet, solved for H by
 * Newton steps kept inside a bracket. Since H rises with the applied field Ha along every branch,
 * turns wipe each other out by Ha, which is known exactly: a weaker pulse leads back to the very
 * state it began at, bit for bit.
 *
 * @param loop of the alloy
 * @param demagnetisingFactor N along the axis of charge, 0 to 1
 */
public record MagnetModel(Hysteresis loop, double demagnetisingFactor) {

  /** Steps of a bisection from any bracket down to the last bit, with room; Newton needs six. */
  private static final int STEPS_MAX = 200;

  /** Net field above the centre that saturates any loop, in widths: 1 − tanh(12) is 8e-11. */
  private static final double SATURATING_WIDTHS = 12;

  /** Relative to the largest field at play; moves the polarisation by less than 1e-10 T. */
  private static final double FIELD_ACCURACY = 1e-13;

  /**
   * @throws IllegalArgumentException if the factor is not a number or outside 0 to 1
   */
  public MagnetModel {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(demagnetisingFactor >= 0 && demagnetisingFactor <= 1)) {
      throw new IllegalArgumentException(
          "demagnetising factor out of range 0 to 1: " + demagnetisingFactor);
    }
  }

  /** The state of a magnet that has never seen a field. */
  public MagnetState uncharged() {
    return MagnetState.UNCHARGED;
  }

  /**
   * Applied field that saturates the magnet: the alloy's net field and what the shape takes of it
   * at the saturation polarisation. The loop's reversible term, which in truth ends there too, is
   * left out.
   *
   * @param netSaturating the alloy's saturating field inside the magnet, &ge; 0
   */
  public FieldStrength saturatingApplied(FieldStrength netSaturating) {
    double net = netSaturating.amperesPerMetre();
    return new FieldStrength(net + shear() * loop.saturationTesla());
  }

  /**
   * The state after a pulse: the applied field goes from zero to the peak and back to zero.
   *
   * @param peak positive drives the gauge's face north, negative drives it south; zero does nothing
   */
  public MagnetState afterPulse(MagnetState state, FieldStrength peak) {
    double applied = peak.amperesPerMetre();
    if (applied == 0) {
      return state;
    }
    return new MagnetState(moved(moved(state.now(), applied), 0));
  }

  /** Polarisation in tesla at zero applied field, positive where the gauge's face is north. */
  public double polarisationTesla(MagnetState state) {
    Turn now = state.now();
    return now.irreversibleTesla() + loop.reversibleTesla(now.netAmperesPerMetre());
  }

  /** The state after a charge, north up, that saturates any loop. */
  public MagnetState charged() {
    double net = loop.centreAmperesPerMetre() + SATURATING_WIDTHS * loop.widthAmperesPerMetre();
    double applied = net + shear() * loop.descendingTesla(net);
    return new MagnetState(moved(moved(Turn.ORIGIN, applied), 0));
  }

  /** Polarisation in tesla at zero applied field after {@link #charged}. */
  public double chargedPolarisationTesla() {
    return polarisationTesla(charged());
  }

  /** Demagnetising field in A/m for one tesla of polarisation. */
  private double shear() {
    return demagnetisingFactor / Mu0.TESLA_PER_AMPERE_PER_METRE;
  }

  private Turn moved(Turn now, double applied) {
    if (applied == now.appliedAmperesPerMetre()) {
      return now;
    }
    Turn start = branchStart(now, applied);
    if (start.isOrigin()) {
      // On the virgin curve J has the sign of H, so H lies between zero and the applied field.
      return solve(start, new Branch.Virgin(), applied, applied);
    }
    Turn limit = start.below();
    double far = limit.isOrigin() ? -start.netAmperesPerMetre() : limit.netAmperesPerMetre();
    return solve(start, Branch.FromTurn.of(loop, start), applied, far);
  }

  /**
   * The turn at which the branch begins that leads to the applied field, once every turn that is
   * reached or passed on the way has been wiped out with its partner.
   */
  private static Turn branchStart(Turn now, double applied) {
    boolean rises = applied > now.appliedAmperesPerMetre();
    Turn below = now.below();
    boolean goesOn =
        !now.isOrigin() && now.appliedAmperesPerMetre() > below.appliedAmperesPerMetre() == rises;
    Turn start = goesOn ? below : now;
    while (!start.isOrigin() && reaches(applied, limitApplied(start), rises)) {
      start = start.below().below();
    }
    return start;
  }

  /** The first turn off the origin is mirrored by the other side of the virgin curve. */
  private static double limitApplied(Turn start) {
    Turn limit = start.below();
    return limit.isOrigin() ? -start.appliedAmperesPerMetre() : limit.appliedAmperesPerMetre();
  }

  private static boolean reaches(double applied, double limit, boolean rises) {
    return rises ? applied >= limit : applied <= limit;
  }

  /** Finds the net field between the start's and the far end's, as the type describes. */
  private Turn solve(Turn start, Branch branch, double applied, double farNet) {
    double low = Math.min(start.netAmperesPerMetre(), farNet);
    double high = Math.max(start.netAmperesPerMetre(), farNet);
    double accuracy = fieldAccuracy(applied);
    double net = 0.5 * (low + high);
    double lastMove = high - low;
    for (int step = 0; step < STEPS_MAX; step++) {
      double u = loop.factor(net);
      double d = loop.factor(-net);
      double irreversible = branch.irreversibleTesla(loop, u, d);
      double error = appliedFor(net, irreversible) - applied;
      low = error < 0 ? net : low;
      high = error > 0 ? net : high;
      double newton = -error / appliedSlope(branch.slope(loop, u, d));
      if (Math.abs(newton) <= accuracy) {
        return new Turn(applied, net, irreversible, start);
      }
      // A step that leaves the bracket, or that gains less than a halving, gives way to a halving.
      boolean good = net + newton >= low && net + newton <= high;
      boolean gains = 2 * Math.abs(newton) <= Math.abs(lastMove);
      lastMove = good && gains ? newton : 0.5 * (low + high) - net;
      net += lastMove;
    }
    throw new IllegalStateException("no net field found for " + applied + " A/m in " + this);
  }

  /** Where the two sides of the load line can be told apart no further, with a margin. */
  private double fieldAccuracy(double applied) {
    double largest =
        loop.centreAmperesPerMetre() + Math.abs(applied) + shear() * loop.saturationTesla();
    return FIELD_ACCURACY * largest;
  }

  private double appliedFor(double net, double irreversible) {
    return net + shear() * (irreversible + loop.reversibleTesla(net));
  }

  private double appliedSlope(double irreversibleSlope) {
    return 1 + demagnetisingFactor * loop.susceptibility() + shear() * irreversibleSlope;
  }
}
