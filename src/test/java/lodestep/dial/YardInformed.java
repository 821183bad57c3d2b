package lodestep.dial;

import java.util.Arrays;
import java.util.SplittableRandom;
import lodestep.measure.SettledReading;

/**
 * Knows exactly from which lot on which rig the magnets come, and sees only readings: many magnets
 * of that very lot, each weighted by how well it agrees with what was read. It takes the same risk
 * as ours.
 */
final class YardInformed implements YardRival {

  private static final int PLACES = 64;
  private static final double PULSE = 0.002;
  private static final double TOLD = 0.0006;
  private static final double NEAR = 1.01;
  private static final double LEAST_WEIGHT = 1e-9;

  /** Magnets of the lot: full charge, and what is left of it at rising peaks. */
  static final class Lot {
    private final double step;
    private final double[] full;
    private final float[][] left;

    Lot(YardPlant.Lot lot, int magnets, double reach, long seed) {
      SplittableRandom random = new SplittableRandom(seed);
      step = reach / (PLACES - 1);
      full = new double[magnets];
      left = new float[magnets][PLACES];
      for (int magnet = 0; magnet < magnets; magnet++) {
        YardPlant.Magnet drawn = lot.draw(random);
        full[magnet] = drawn.applyAsDouble(0);
        for (int place = 0; place < PLACES; place++) {
          left[magnet][place] = (float) (drawn.applyAsDouble(place * step) / full[magnet]);
        }
      }
    }

    double part(int magnet, double peak) {
      double place = peak / step;
      int above = (int) Math.min(PLACES - 2, place);
      float[] row = left[magnet];
      return row[above] + (place - above) * (row[above + 1] - row[above]);
    }

    double peakFor(int magnet, double part) {
      float[] row = left[magnet];
      int above = 0;
      int below = PLACES - 1;
      if (row[below] > part) {
        return below * step;
      }
      while (below - above > 1) {
        int middle = (above + below) >>> 1;
        if (row[middle] > part) {
          above = middle;
        } else {
          below = middle;
        }
      }
      return (above + (row[above] - part) / (row[above] - row[below])) * step;
    }
  }

  private final Lot lot;
  private final double[] logWeights;
  private final double[] weights;
  private boolean fresh = true;
  private double full;
  private double fullDoubt;
  private double told;
  private double level;

  YardInformed(Lot lot) {
    this.lot = lot;
    this.logWeights = new double[lot.full.length];
    this.weights = new double[lot.full.length];
  }

  @Override
  public void charged(SettledReading reading) {
    full = reading.value().tesla();
    fullDoubt = reading.standardUncertainty().tesla() / full;
    told = 0;
    level = full;
    if (fresh) {
      double variance = YardRig.SEATING * YardRig.SEATING + fullDoubt * fullDoubt;
      weigh(magnet -> Math.log(full / lot.full[magnet]), variance);
    }
    fresh = false;
  }

  private void weigh(java.util.function.IntToDoubleFunction off, double variance) {
    double most = Double.NEGATIVE_INFINITY;
    for (int magnet = 0; magnet < weights.length; magnet++) {
      double miss = off.applyAsDouble(magnet);
      logWeights[magnet] -= 0.5 * miss * miss / variance;
      most = Math.max(most, logWeights[magnet]);
    }
    for (int magnet = 0; magnet < weights.length; magnet++) {
      weights[magnet] = Math.exp(logWeights[magnet] - most);
    }
    double sum = Arrays.stream(weights).sum();
    for (int magnet = 0; magnet < weights.length; magnet++) {
      weights[magnet] /= sum;
    }
  }

  @Override
  public void knockedDown(double field, SettledReading reading) {
    told = Math.max(told, field);
    double read = reading.value().tesla();
    double u = reading.standardUncertainty().tesla();
    double[] expected = moments(magnet -> lot.part(magnet, told));
    double shared = Math.hypot(fullDoubt * read / full, TOLD);
    double predicted = full * Math.hypot(expected[1], shared);
    level =
        new MagnetBelief.Level(full * expected[0], Math.max(predicted, 1e-9)).with(read, u).tesla();
    double part = read / full;
    weigh(magnet -> lot.part(magnet, told) - part, Math.pow(u / full, 2) + shared * shared);
  }

  @Override
  public double level() {
    return level;
  }

  @Override
  public double next(double target, double half) {
    double[] lowest = moments(magnet -> Math.log(lot.peakFor(magnet, (target - half) / full)));
    double[] middle = moments(magnet -> Math.log(lot.peakFor(magnet, target / full)));
    double[] higher =
        moments(magnet -> Math.log(lot.peakFor(magnet, (target - half) * NEAR / full)));
    double perLevel = (lowest[0] - higher[0]) / (NEAR - 1);
    double read = perLevel * MagnetBelief.readingUncertainty(target) / target;
    double doubt = Math.hypot(lowest[1], Math.hypot(PULSE, read));
    double safe = lowest[0] - BeliefAim.SIGMAS * doubt;
    return Math.max(Math.exp(Math.min(safe, middle[0])), told * GROWTH);
  }

  /** Mean and standard deviation over the magnets by their weights. */
  private double[] moments(java.util.function.IntToDoubleFunction of) {
    double sum = 0;
    double squares = 0;
    double all = 0;
    double effective = 0;
    for (int magnet = 0; magnet < weights.length; magnet++) {
      if (weights[magnet] > LEAST_WEIGHT) {
        double value = of.applyAsDouble(magnet);
        sum += weights[magnet] * value;
        squares += weights[magnet] * value * value;
        all += weights[magnet];
        effective += weights[magnet] * weights[magnet];
      }
    }
    double mean = sum / all;
    double variance = Math.max(0, squares / all - mean * mean);
    return new double[] {mean, Math.sqrt(variance * (1 + effective))};
  }
}
