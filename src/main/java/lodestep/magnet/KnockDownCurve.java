package lodestep.magnet;

import java.util.ArrayList;
import java.util.List;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;

/**
 * What is left of a full charge after one reverse pulse, against the pulse's peak field: the curve
 * a nominal magnet of a kind follows as it is knocked down. Any thread, immutable.
 *
 * <p>Because the state after growing reverse pulses depends on the largest alone, one curve says it
 * for any number of them. It falls without end; below zero the magnet has turned over.
 *
 * @param step spacing of the points, &gt; 0
 * @param fractions level after a peak of 0, 1, 2 … steps as a part of the full charge; begins with
 *     1, never rises
 */
public record KnockDownCurve(FieldStrength step, List<Double> fractions) {

  private static final int POINTS = 400;

  /**
   * @throws IllegalArgumentException if there are fewer than two points or one rises
   */
  public KnockDownCurve {
    fractions = List.copyOf(fractions);
    if (fractions.size() < 2 || !(step.amperesPerMetre() > 0)) {
      throw new IllegalArgumentException("a knock-down curve needs two points and a step");
    }
    for (int i = 1; i < fractions.size(); i++) {
      if (fractions.get(i) > fractions.get(i - 1)) {
        throw new IllegalArgumentException("a knock-down curve never rises, but does at " + i);
      }
    }
  }

  /**
   * The curve of a nominal magnet from its full charge.
   *
   * @param standOff at which it is read
   * @param max reverse peak up to which it is worked out, &gt; 0
   */
  public static KnockDownCurve of(FaceModel kind, Length standOff, FieldStrength max) {
    return of(kind.model(), kind.at(standOff), max);
  }

  /** The curve of a magnet of this model, read by this face, from its full charge. */
  static KnockDownCurve of(MagnetModel model, FaceField face, FieldStrength max) {
    MagnetState charged = model.charged();
    double full = face.tesla(model.polarisationTesla(charged));
    double stepAperM = max.amperesPerMetre() / POINTS;
    List<Double> fractions = new ArrayList<>();
    double last = 1.0;
    for (int i = 0; i <= POINTS; i++) {
      FieldStrength reverse = new FieldStrength(-i * stepAperM);
      MagnetState after = i == 0 ? charged : model.afterPulse(charged, reverse);
      // Solver dust of the order of 1e-9 must not read as a rise.
      last = Math.min(last, face.tesla(model.polarisationTesla(after)) / full);
      fractions.add(last);
    }
    return new KnockDownCurve(new FieldStrength(stepAperM), fractions);
  }

  /** The peak field that leaves this fraction, in A/m; the curve's end for a lower one. */
  public double fieldFor(double fraction) {
    int above = 0;
    int below = fractions.size() - 1;
    if (fraction >= fractions.get(above)) {
      return 0;
    }
    if (fraction <= fractions.get(below)) {
      return below * step.amperesPerMetre();
    }
    while (below - above > 1) {
      int middle = (above + below) >>> 1;
      if (fractions.get(middle) > fraction) {
        above = middle;
      } else {
        below = middle;
      }
    }
    double width = fractions.get(above) - fractions.get(below);
    double part = width > 0 ? (fractions.get(above) - fraction) / width : 0;
    return (above + part) * step.amperesPerMetre();
  }

  /** What a peak of this field leaves, as a part of the full charge; the curve's end beyond it. */
  public double fractionAt(double fieldAperM) {
    double place = Math.max(0, fieldAperM) / step.amperesPerMetre();
    int above = (int) Math.min(fractions.size() - 2, place);
    double part = Math.min(1, place - above);
    return fractions.get(above) + part * (fractions.get(above + 1) - fractions.get(above));
  }

  /** The steepest fall anywhere, as a part of the full charge for one A/m; &gt; 0. */
  public double steepestPerAperM() {
    double steepest = 0;
    for (int i = 1; i < fractions.size(); i++) {
      steepest = Math.max(steepest, fractions.get(i - 1) - fractions.get(i));
    }
    return steepest / step.amperesPerMetre();
  }
}
