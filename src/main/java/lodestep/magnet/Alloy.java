package lodestep.magnet;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/**
 * One magnet material by the figures its makers publish, at 20 °C, each with its source. Any
 * thread, immutable.
 *
 * @param name the trade's name, for example "alnico 5"
 * @param form how it is made: cast or sintered
 * @param figures in SI units; a figure that is not known is not there
 */
public record Alloy(String name, Family family, String form, Map<Figure, Known> figures) {

  /** What kind of material; it decides whether a pulse coil or a jig can do anything to it. */
  public enum Family {
    ALNICO("alnico"),
    FERRITE("ferrite"),
    NEODYMIUM("neodymium");

    private final String words;

    Family(String words) {
      this.words = words;
    }

    /** As the file of alloys writes it. */
    public String words() {
      return words;
    }

    /** Whether magnets of it are charged and knocked down on this rig. */
    public boolean isDialed() {
      return this == ALNICO;
    }
  }

  /**
   * A figure that is known.
   *
   * @param value in SI units
   */
  public record Known(double value, FigureSource source) {}

  /**
   * @throws IllegalArgumentException if a figure that each needs is missing, or two contradict each
   *     other
   */
  public Alloy {
    figures = Collections.unmodifiableMap(new EnumMap<>(figures));
    if (name.isBlank()) {
      throw new IllegalArgumentException("an alloy needs a name");
    }
    double coercivityB = needed(name, figures, Figure.COERCIVITY_B);
    double coercivityJ = needed(name, figures, Figure.COERCIVITY_J);
    needed(name, figures, Figure.REMANENCE);
    needed(name, figures, Figure.ENERGY_PRODUCT);
    needed(name, figures, Figure.RECOIL);
    if (coercivityJ < coercivityB) {
      throw new IllegalArgumentException(
          "alloy '" + name + "' has HcJ below HcB, which no loop can have");
    }
    if (needed(name, figures, Figure.SATURATING_FIELD) <= coercivityJ) {
      throw new IllegalArgumentException("alloy '" + name + "' needs a saturating field above HcJ");
    }
  }

  private static double needed(String name, Map<Figure, Known> figures, Figure figure) {
    Known known = figures.get(figure);
    if (known == null) {
      throw new IllegalArgumentException(
          "no "
              + figure.words()
              + " is known of alloy '"
              + name
              + "'; measure it and write it into a [[lot]] of it in rig.toml");
    }
    return known.value();
  }

  /** A figure in SI units, if it is known. */
  public Optional<Known> known(Figure figure) {
    return Optional.ofNullable(figures.get(figure));
  }

  /**
   * A figure in SI units.
   *
   * @throws IllegalArgumentException naming the figure if it is not known of this alloy
   */
  public double figure(Figure figure) {
    return needed(name, figures, figure);
  }

  /** Br, &gt; 0. */
  public FluxDensity remanence() {
    return new FluxDensity(figure(Figure.REMANENCE));
  }

  /** HcB, without sign. */
  public FieldStrength coercivityB() {
    return new FieldStrength(figure(Figure.COERCIVITY_B));
  }

  /** HcJ, without sign, &ge; HcB. */
  public FieldStrength coercivityJ() {
    return new FieldStrength(figure(Figure.COERCIVITY_J));
  }

  /** (BH)max. */
  public double energyProductJoulesPerCubicMetre() {
    return figure(Figure.ENERGY_PRODUCT);
  }

  /** Relative, &ge; 1. */
  public double recoilPermeability() {
    return figure(Figure.RECOIL);
  }

  /** Reversible change of Br, relative, for one kelvin. */
  public double remanencePerKelvin() {
    return figure(Figure.REMANENCE_PER_KELVIN);
  }

  /** Net field inside the magnet that saturates it. */
  public FieldStrength saturatingField() {
    return new FieldStrength(figure(Figure.SATURATING_FIELD));
  }

  /** How far its magnets lie apart. */
  public Spread spread() {
    if (UnknownAlloy.is(this)) {
      return UnknownAlloy.SPREAD;
    }
    return new Spread(
        figure(Figure.REMANENCE_LOT),
        figure(Figure.REMANENCE_MAGNET),
        figure(Figure.COERCIVITY_LOT),
        figure(Figure.COERCIVITY_MAGNET));
  }

  /**
   * A lot of this alloy with figures of its own; what was not measured stays the alloy's.
   *
   * @param lot its name
   * @param measured in SI units
   * @param source who measured and when
   * @throws IllegalArgumentException if two figures contradict each other
   */
  public Alloy lot(String lot, Map<Figure, Double> measured, FigureSource source) {
    Map<Figure, Known> all = new EnumMap<>(figures);
    measured.forEach((figure, value) -> all.put(figure, new Known(value, source)));
    return new Alloy(lot, family, form, all);
  }
}
