package lodestep.magnet;

/**
 * The plain way to reckon with a Preisach loop, to hold ours against: a grid of relays, each of
 * which switches up at one field and down at another and is looked at in every step, with the load
 * line met by bisection. Its thresholds stand at even parts of the loop's factor, where its relays
 * weigh nearly the same. Confined to its thread.
 */
final class RelayEnsemble {

  /**
   * Relays along each threshold that keep within two thousandths of a full charge: where the load
   * line ends inside a row of relays, half a row is lost or won, and a row is two parts in this
   * many of the saturation.
   */
  static final int GRID = 2000;

  private final Hysteresis loop;
  private final double shear;
  private final double[] levels;
  private final double[] weights;
  private final boolean[] up;

  /**
   * @param grid relays along each threshold
   * @param demagnetisingFactor of the magnet's shape, 0 to 1
   */
  RelayEnsemble(Hysteresis loop, double demagnetisingFactor, int grid) {
    this.loop = loop;
    this.shear = demagnetisingFactor / Mu0.TESLA_PER_AMPERE_PER_METRE;
    this.levels = new double[grid];
    this.weights = new double[grid * grid];
    this.up = new boolean[grid * grid];
    double sum = 0;
    for (int i = 0; i < grid; i++) {
      levels[i] = fieldOf((i + 0.5) / grid);
      for (int j = 0; j < grid; j++) {
        double weight = levels[i] < downAt(j, grid) ? 0 : weight(i, j, grid);
        weights[i * grid + j] = weight;
        sum += weight;
      }
    }
    for (int i = 0; i < weights.length; i++) {
      weights[i] *= loop.saturationTesla() / sum;
    }
  }

  /** Field at which the factor has this value. */
  private double fieldOf(double factor) {
    double x = 2 * factor - 1;
    return loop.centreAmperesPerMetre()
        + loop.widthAmperesPerMetre() * 0.5 * Math.log((1 + x) / (1 - x));
  }

  private double downAt(int j, int grid) {
    return -fieldOf((j + 0.5) / grid);
  }

  /** Everett's function over one cell of thresholds. */
  private double weight(int i, int j, int grid) {
    double part = 1.0 / grid;
    double aLow = fieldOf(Math.max(1e-12, i * part));
    double aHigh = fieldOf(Math.min(1 - 1e-12, (i + 1) * part));
    double bHigh = -fieldOf(Math.max(1e-12, j * part));
    double bLow = -fieldOf(Math.min(1 - 1e-12, (j + 1) * part));
    double mirrored =
        (loop.factor(-aLow) - loop.factor(-aHigh)) * (loop.factor(bHigh) - loop.factor(bLow));
    return part * part - mirrored;
  }

  /** Polarisation in tesla if the net field went to this value. */
  private double tesla(double net) {
    int grid = levels.length;
    double sum = 0;
    for (int i = 0; i < grid; i++) {
      boolean rises = net >= levels[i];
      for (int j = 0; j < grid; j++) {
        int relay = i * grid + j;
        boolean stays = rises || (up[relay] && net > -levels[j]);
        sum += stays ? weights[relay] : -weights[relay];
      }
    }
    return sum + loop.reversibleTesla(net);
  }

  /** Leads the applied field to a value, in A/m; returns the polarisation there, in tesla. */
  double lead(double applied) {
    double reach = shear * (loop.saturationTesla() + loop.reversibleTesla(Math.abs(applied)));
    double low = applied - reach - 1;
    double high = applied + reach + 1;
    // Down to a tenth of the narrowest step between thresholds.
    double enough = 0.2 * loop.widthAmperesPerMetre() / levels.length;
    while (high - low > enough) {
      double middle = 0.5 * (low + high);
      boolean below = middle + shear * tesla(middle) < applied;
      low = below ? middle : low;
      high = below ? high : middle;
    }
    double net = 0.5 * (low + high);
    commit(net);
    return tesla(net);
  }

  private void commit(double net) {
    int grid = levels.length;
    for (int i = 0; i < grid; i++) {
      for (int j = 0; j < grid; j++) {
        int relay = i * grid + j;
        up[relay] = net >= levels[i] || (up[relay] && net > -levels[j]);
      }
    }
  }

  /** A pulse: to the peak and back to zero. Polarisation afterwards, in tesla. */
  double pulse(double peakAmperesPerMetre) {
    lead(peakAmperesPerMetre);
    return lead(0);
  }
}
