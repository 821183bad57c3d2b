package lodestep.magnet;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;

/**
 * The knock-down curves of all magnets of one kind: the nominal magnet's, and how the curve and the
 * full charge move with each trait in which magnets of a kind differ. Any thread, immutable.
 *
 * <p>A curve is told by the field that leaves a part of the magnet's own full charge. Its relative
 * changes with the traits are by central differences of {@link MagnetModel}; that the ratio of
 * polarisation to reading changes with a trait is left out.
 *
 * @param nominal the nominal magnet's curve
 * @param spread how far its magnets lie apart, as the alloy's figures say
 * @param fullPerTrait relative change of the full charge for that of each trait, in their order
 * @param perTrait relative change of the field for that of each trait, from the largest part left
 *     to the smallest
 */
public record CurveFamily(
    KnockDownCurve nominal, Spread spread, List<Double> fullPerTrait, List<List<Double>> perTrait) {

  /** In what magnets of one kind differ. */
  public enum Trait {
    /** Br: the loop stretched along its polarisation. */
    REMANENCE,
    /** Coercivity: the loop stretched along its field. */
    COERCIVITY,
    /** The demagnetising factor, by the sizes. */
    SLENDERNESS,
    /** Over how wide a field the loop falls: what its figures fix worst. */
    ROUNDNESS
  }

  /** Relative change of a trait in the differences. */
  private static final double CHANGE = 0.01;

  /** Parts of the full charge at which the changes are worked out. */
  private static final double[] PARTS = {0.97, 0.92, 0.84, 0.74, 0.62, 0.5, 0.38, 0.26, 0.14};

  /** Step of the slope of the curve, as a part of the level. */
  private static final double SLOPE_STEP = 0.004;

  public CurveFamily {
    fullPerTrait = List.copyOf(fullPerTrait);
    perTrait = perTrait.stream().map(List::copyOf).toList();
  }

  /**
   * Works out the curves of a kind; about two milliseconds.
   *
   * @param standOff at which it is read
   * @param max reverse peak up to which the curve is worked out, &gt; 0
   */
  public static CurveFamily of(FaceModel kind, Length standOff, FieldStrength max) {
    FaceField face = kind.at(standOff);
    double change = Math.log((1 + CHANGE) / (1 - CHANGE));
    List<Double> fullPerTrait = new ArrayList<>();
    List<List<Double>> perTrait = new ArrayList<>();
    for (Trait trait : Trait.values()) {
      MagnetModel more = changed(kind.model(), trait, 1 + CHANGE);
      MagnetModel less = changed(kind.model(), trait, 1 - CHANGE);
      double full = more.chargedPolarisationTesla() / less.chargedPolarisationTesla();
      fullPerTrait.add(Math.log(full) / change);
      KnockDownCurve high = KnockDownCurve.of(more, face, max);
      KnockDownCurve low = KnockDownCurve.of(less, face, max);
      perTrait.add(
          Arrays.stream(PARTS)
              .mapToObj(part -> Math.log(high.fieldFor(part) / low.fieldFor(part)) / change)
              .toList());
    }
    KnockDownCurve nominal = KnockDownCurve.of(kind, standOff, max);
    return new CurveFamily(nominal, kind.alloy().spread(), fullPerTrait, perTrait);
  }

  /** Of magnets that load themselves so little that only their coercivity stretches the curve. */
  public static CurveFamily stretched(KnockDownCurve nominal, Spread spread) {
    List<List<Double>> perTrait =
        Arrays.stream(Trait.values())
            .map(trait -> Collections.nCopies(PARTS.length, trait == Trait.COERCIVITY ? 1.0 : 0.0))
            .toList();
    List<Double> fullPerTrait =
        Arrays.stream(Trait.values()).map(trait -> trait == Trait.REMANENCE ? 1.0 : 0.0).toList();
    return new CurveFamily(nominal, spread, fullPerTrait, perTrait);
  }

  private static MagnetModel changed(MagnetModel model, Trait trait, double factor) {
    double n = model.demagnetisingFactor();
    return switch (trait) {
      case REMANENCE -> new MagnetModel(model.loop().scaled(factor, 1), n);
      case COERCIVITY -> new MagnetModel(model.loop().scaled(1, factor), n);
      case ROUNDNESS -> new MagnetModel(model.loop().rounder(factor), n);
      case SLENDERNESS -> new MagnetModel(model.loop(), Math.min(1, n * factor));
    };
  }

  /** Relative change of the field that leaves this part, for a relative change of the trait. */
  public double fieldPer(Trait trait, double part) {
    List<Double> values = perTrait.get(trait.ordinal());
    if (part >= PARTS[0]) {
      return values.get(0);
    }
    for (int i = 1; i < PARTS.length; i++) {
      if (part >= PARTS[i]) {
        double along = (PARTS[i - 1] - part) / (PARTS[i - 1] - PARTS[i]);
        return values.get(i - 1) + along * (values.get(i) - values.get(i - 1));
      }
    }
    return values.get(PARTS.length - 1);
  }

  /** Relative change of the full charge for a relative change of the trait. */
  public double fullPer(Trait trait) {
    return fullPerTrait.get(trait.ordinal());
  }

  /**
   * Relative change of the nominal field for a relative change of the part that it leaves, below
   * zero: a stronger field leaves less.
   *
   * @param part above 0, below 1
   */
  public double fieldPerPart(double part) {
    double above = Math.min(part * (1 + SLOPE_STEP), 0.5 * (1 + part));
    double below = part * (1 - SLOPE_STEP);
    double change = Math.log(nominal.fieldFor(above) / nominal.fieldFor(below));
    return change / Math.log(above / below);
  }
}
