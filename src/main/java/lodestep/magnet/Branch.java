package lodestep.magnet;

/**
 * One stretch of the loop that the field runs along without turning. Any thread, immutable.
 *
 * <p>Both figures are functions of u = F(H) and d = F(−H) of {@link Hysteresis}, so that a step of
 * the solver costs two hyperbolic tangents and no more.
 */
sealed interface Branch {

  /** Irreversible polarisation in tesla at the net field with these factors. */
  double irreversibleTesla(Hysteresis loop, double u, double d);

  /** Its derivative by the net field in T m/A, &ge; 0. */
  double slope(Hysteresis loop, double u, double d);

  /** The curve of first magnetisation, Jirr = E(H, −H)/2. */
  record Virgin() implements Branch {

    @Override
    public double irreversibleTesla(Hysteresis loop, double u, double d) {
      return loop.saturationTesla() * (u * u - d * d);
    }

    @Override
    public double slope(Hysteresis loop, double u, double d) {
      return 2 * loop.saturationTesla() * (u * loop.factorSlope(u) + d * loop.factorSlope(d));
    }
  }

  /**
   * The branch from a turn, Jirr = Jturn + E(H, Hturn).
   *
   * @param turnTesla irreversible polarisation at the turn
   * @param turnUp F of the turn's net field
   * @param turnDown F of the turn's net field with the other sign
   */
  record FromTurn(double turnTesla, double turnUp, double turnDown) implements Branch {

    static FromTurn of(Hysteresis loop, Turn turn) {
      double net = turn.netAmperesPerMetre();
      return new FromTurn(turn.irreversibleTesla(), loop.factor(net), loop.factor(-net));
    }

    @Override
    public double irreversibleTesla(Hysteresis loop, double u, double d) {
      return turnTesla + 2 * loop.saturationTesla() * (u * turnDown - d * turnUp);
    }

    @Override
    public double slope(Hysteresis loop, double u, double d) {
      return 2
          * loop.saturationTesla()
          * (loop.factorSlope(u) * turnDown + loop.factorSlope(d) * turnUp);
    }
  }
}
