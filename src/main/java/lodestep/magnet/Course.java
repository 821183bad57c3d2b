package lodestep.magnet;

/**
 * How each part of a magnet goes through its alloy's loop: out along one branch, and back along the
 * one that begins where it turned. Any thread, immutable.
 *
 * <p>The turn is the net field furthest out so far. A part whose neighbours give way may go back a
 * little while the applied field still grows; its going out again along that same branch leaves out
 * a loop of the second order.
 */
sealed interface Course {

  /** The alloy's loop. */
  Hysteresis loop();

  /** The turn once the net field is here, in A/m. */
  double turn(double turn, double net);

  /** Polarisation in tesla, reversible part included. */
  double tesla(double turn, double net);

  /**
   * Slope of {@link #tesla} by the net field in T m/A; at the turn itself, of the branch that is
   * about to be taken.
   *
   * @param rises whether the applied field rises
   */
  double slope(double turn, double net, boolean rises);

  /** Slope of the reversible part. */
  default double reversibleSlope() {
    return Mu0.TESLA_PER_AMPERE_PER_METRE * loop().susceptibility();
  }

  /** Slope of the Everett function by the field that it leads to. */
  default double everettSlope(double net, double turn) {
    Hysteresis loop = loop();
    double change =
        loop.factorSlope(loop.factor(net)) * loop.factor(-turn)
            + loop.factorSlope(loop.factor(-net)) * loop.factor(turn);
    return 2 * loop.saturationTesla() * change;
  }

  /** Down from saturation, and up again: the turn is the lowest field since. */
  record FromSaturation(Hysteresis loop) implements Course {

    @Override
    public double turn(double turn, double net) {
      return Math.min(turn, net);
    }

    @Override
    public double tesla(double turn, double net) {
      return net <= turn
          ? loop.descendingTesla(net)
          : loop.descendingTesla(turn)
              + loop.everettTesla(net, turn)
              + loop.reversibleTesla(net)
              - loop.reversibleTesla(turn);
    }

    @Override
    public double slope(double turn, double net, boolean rises) {
      if (net < turn || (net == turn && !rises)) {
        double tanh = Math.tanh((net + loop.centreAmperesPerMetre()) / loop.widthAmperesPerMetre());
        return loop.saturationTesla() * (1 - tanh * tanh) / loop.widthAmperesPerMetre()
            + reversibleSlope();
      }
      return everettSlope(net, turn) + reversibleSlope();
    }
  }

  /**
   * Up the virgin curve J = E(H, −H)/2, and down again: the turn is the highest field so far. Below
   * its mirror image the part is on the virgin curve's other side.
   */
  record FromNothing(Hysteresis loop) implements Course {

    @Override
    public double turn(double turn, double net) {
      return Math.max(turn, net);
    }

    @Override
    public double tesla(double turn, double net) {
      double irreversible =
          Math.abs(net) >= turn
              ? 0.5 * loop.everettTesla(net, -net)
              : 0.5 * loop.everettTesla(turn, -turn) + loop.everettTesla(net, turn);
      return irreversible + loop.reversibleTesla(net);
    }

    @Override
    public double slope(double turn, double net, boolean rises) {
      boolean virgin = Math.abs(net) > turn || (net == turn && rises);
      // E(H, −H)/2 grows by both of its fields, alike.
      return (virgin ? everettSlope(net, -net) : everettSlope(net, turn)) + reversibleSlope();
    }
  }
}
