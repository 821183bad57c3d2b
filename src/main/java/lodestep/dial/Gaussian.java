package lodestep.dial;

import java.util.Arrays;

/**
 * What is believed of some figures that are normally distributed together, and the exact change by
 * one more observation of a weighted sum of them. Any thread, immutable.
 *
 * <p>Source: the measurement step of Kalman (1960), for one scalar observation.
 */
final class Gaussian {

  private final double[] mean;
  private final double[][] covariance;

  private Gaussian(double[] mean, double[][] covariance) {
    this.mean = mean;
    this.covariance = covariance;
  }

  /** Independent of one another, each about zero. */
  static Gaussian independent(double... standardDeviations) {
    int n = standardDeviations.length;
    double[][] covariance = new double[n][n];
    for (int i = 0; i < n; i++) {
      covariance[i][i] = standardDeviations[i] * standardDeviations[i];
    }
    return new Gaussian(new double[n], covariance);
  }

  /**
   * A smooth figure about zero at some places: the nearer two places, the more alike.
   *
   * @param places at which it is told
   * @param standardDeviation at each
   * @param length over which it changes
   */
  static Gaussian smooth(double[] places, double standardDeviation, double length) {
    int n = places.length;
    double[][] covariance = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        double apart = (places[i] - places[j]) / length;
        covariance[i][j] = standardDeviation * standardDeviation * Math.exp(-0.5 * apart * apart);
      }
    }
    return new Gaussian(new double[n], covariance);
  }

  int size() {
    return mean.length;
  }

  /** These figures and then others that are independent of them. */
  Gaussian beside(Gaussian other) {
    int n = mean.length;
    int m = other.mean.length;
    double[] both = new double[n + m];
    System.arraycopy(mean, 0, both, 0, n);
    System.arraycopy(other.mean, 0, both, n, m);
    double[][] joint = new double[n + m][n + m];
    for (int i = 0; i < n; i++) {
      System.arraycopy(covariance[i], 0, joint[i], 0, n);
    }
    for (int i = 0; i < m; i++) {
      System.arraycopy(other.covariance[i], 0, joint[n + i], n, m);
    }
    return new Gaussian(both, joint);
  }

  /** Only the first of these figures, whatever the others are. */
  Gaussian first(int count) {
    double[][] part = new double[count][count];
    for (int i = 0; i < count; i++) {
      System.arraycopy(covariance[i], 0, part[i], 0, count);
    }
    return new Gaussian(Arrays.copyOf(mean, count), part);
  }

  /** The same spread wider by a factor, about the same means. */
  Gaussian wider(double factor) {
    double[][] more = new double[mean.length][mean.length];
    for (int i = 0; i < mean.length; i++) {
      for (int j = 0; j < mean.length; j++) {
        more[i][j] = factor * factor * covariance[i][j];
      }
    }
    return new Gaussian(mean.clone(), more);
  }

  /** One figure known a little less well than before. */
  Gaussian drifted(int figure, double standardDeviation) {
    double[][] more = new double[mean.length][];
    for (int i = 0; i < mean.length; i++) {
      more[i] = covariance[i].clone();
    }
    more[figure][figure] += standardDeviation * standardDeviation;
    return new Gaussian(mean.clone(), more);
  }

  /** What is expected of the weighted sum. */
  double expected(double[] weights) {
    double sum = 0;
    for (int i = 0; i < mean.length; i++) {
      sum += weights[i] * mean[i];
    }
    return sum;
  }

  /** Variance of the weighted sum. */
  double variance(double[] weights) {
    double sum = 0;
    for (int i = 0; i < mean.length; i++) {
      if (weights[i] != 0) {
        for (int j = 0; j < mean.length; j++) {
          sum += weights[i] * weights[j] * covariance[i][j];
        }
      }
    }
    return Math.max(0, sum);
  }

  /**
   * After the weighted sum has been observed.
   *
   * @param noiseVariance of the observation, &gt; 0
   */
  Gaussian observing(double[] weights, double value, double noiseVariance) {
    int n = mean.length;
    double[] with = new double[n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        with[i] += covariance[i][j] * weights[j];
      }
    }
    double total = variance(weights) + noiseVariance;
    double surprise = value - expected(weights);
    double[] newMean = new double[n];
    double[][] newCovariance = new double[n][n];
    for (int i = 0; i < n; i++) {
      newMean[i] = mean[i] + with[i] * surprise / total;
      for (int j = 0; j < n; j++) {
        newCovariance[i][j] = covariance[i][j] - with[i] * with[j] / total;
      }
    }
    return new Gaussian(newMean, newCovariance);
  }
}
