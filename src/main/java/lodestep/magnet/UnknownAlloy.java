package lodestep.magnet;

import java.util.EnumMap;
import java.util.Map;

/**
 * An alnico of which nobody knows the grade: a middle one, with spreads so wide that each grade
 * lies well inside. Its magnets' own readings tell it from there. Any thread, immutable.
 *
 * <p>Between grades the coercivity goes from a third below the middle to twice as much, the
 * remanence by a third to either side, and the knee from sharp (alnico 5) to round (2, 3 and 8).
 */
public final class UnknownAlloy {

  /** As a plan and records write it. */
  public static final String NAME = "unknown";

  /** Relative standard deviations, of the logarithm where they are large. */
  static final Spread SPREAD = new Spread(0.3, 0.015, 0.45, 0.02, 0.6);

  private static final FigureSource SOURCE =
      new FigureSource(
          FigureSource.Kind.COMMON_PRACTICE, "middle of the grades of alnico in this table");

  private static final Alloy ALLOY = new Alloy(NAME, Alloy.Family.ALNICO, "cast", figures());

  private UnknownAlloy() {}

  /** The middle one. */
  public static Alloy alloy() {
    return ALLOY;
  }

  /** Whether nobody knows what this is. */
  public static boolean is(Alloy alloy) {
    return alloy.name().equals(NAME);
  }

  /** Whether a person has written that nobody knows it. */
  public static boolean isWritten(String text) {
    return text.strip().equalsIgnoreCase(NAME);
  }

  /** Its saturating field is that of the hardest grade, so that none is charged too little. */
  private static Map<Figure, Alloy.Known> figures() {
    Map<Figure, Alloy.Known> figures = new EnumMap<>(Figure.class);
    put(figures, Figure.REMANENCE, 0.9);
    put(figures, Figure.COERCIVITY_B, 64e3);
    put(figures, Figure.COERCIVITY_J, 67e3);
    put(figures, Figure.ENERGY_PRODUCT, 23e3);
    put(figures, Figure.RECOIL, 3.5);
    put(figures, Figure.REMANENCE_PER_KELVIN, -0.023e-2);
    put(figures, Figure.SATURATING_FIELD, 640e3);
    return figures;
  }

  private static void put(Map<Figure, Alloy.Known> figures, Figure figure, double value) {
    figures.put(figure, new Alloy.Known(value, SOURCE));
  }
}
