package lodestep.magnet;

import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.Energy;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/**
 * Finds the smallest bank, and the wire for a coil, that charge a magnet. Any thread, immutable.
 *
 * <p>Every preferred wire is tried in the coil's room. For each the least capacitance is sought at
 * the highest voltage, since the least energy is the one drawn fastest; the wire that needs the
 * least wins. That is rounded up to what is sold, and the voltage brought down to what then gives
 * the field.
 *
 * <p>Takes the winding as at its highest temperature, the field as the least anywhere on the axis
 * of the magnet, and a coil without iron.
 *
 * @param voltageMax of the supply, above zero; the rig's own limit bounds it
 * @param energyMax in the bank at that voltage, above zero; the rig's own limit bounds it
 * @param currentMax that switch, diode and changeover contact carry in a pulse, above zero
 * @param pathOhms of bank, switch, leads and changeover together, &ge; 0; taken as before the diode
 *     altogether, so that the coil's tail is a little long and warm
 * @param warmest temperature of the winding at which the field still has to be reached
 */
public record BankSizing(
    Voltage voltageMax,
    Energy energyMax,
    ElectricCurrent currentMax,
    double pathOhms,
    Temperature warmest) {

  /** Preferred diameters of bare copper in millimetres: series R 20, as in IEC 60317-0-1. */
  private static final List<Double> WIRES_MM =
      List.of(
          0.2, 0.224, 0.25, 0.28, 0.315, 0.355, 0.4, 0.45, 0.5, 0.56, 0.63, 0.71, 0.8, 0.9, 1.0,
          1.12, 1.25, 1.4, 1.6, 1.8, 2.0, 2.24, 2.5);

  /** What capacitors are sold in: series E 6 of IEC 60063. */
  private static final List<Double> PREFERRED = List.of(1.0, 1.5, 2.2, 3.3, 4.7, 6.8, 10.0);

  private static final double FARADS_MIN = 1e-6;

  /** Halvings of the range of capacitance or voltage: down to a millionth of either. */
  private static final int HALVINGS = 40;

  /**
   * @throws IllegalArgumentException naming the figure that is out of range
   */
  public BankSizing {
    // Negated comparisons on purpose: they also reject NaN.
    if (!(voltageMax.volts() > 0 && energyMax.joules() > 0 && currentMax.amps() > 0)) {
      throw new IllegalArgumentException(
          "a bank needs a voltage, an energy and a current above zero");
    }
    if (!(pathOhms >= 0 && pathOhms < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("a path's resistance is 0 or more: " + pathOhms + " ohms");
    }
  }

  /**
   * What is to be charged.
   *
   * @param field applied, that saturates it: {@link MagnetModel#saturatingApplied}
   * @param leastBaseSeconds shortest pulse that reaches its middle: {@link EddyCurrents}
   */
  public record Work(Shape shape, FieldStrength field, double leastBaseSeconds) {}

  /** What came of it: a bank, or why there is none. */
  public sealed interface Answer {

    /**
     * The smallest that does it.
     *
     * @param coil turns and wire
     * @param pulse with the winding at its warmest: current, heat, action, width
     * @param fieldPerAmp least on the axis of the magnet, in A/m for one ampere
     */
    record Sized(CoilDesign coil, Discharge pulse, double fieldPerAmp) implements Answer {

      /** What the magnet sees where it sees least. */
      public FieldStrength field() {
        return new FieldStrength(fieldPerAmp * pulse.peakAmps());
      }

      /** By how much one pulse warms the copper, in kelvin. */
      public double riseKelvin() {
        return pulse.coilJoules() / coil.wire().heatJoulesPerKelvin();
      }
    }

    /** None does it. */
    record None(String why) implements Answer {}

    /** The bank, if there is one. */
    default Optional<Sized> sized() {
      return this instanceof Sized sized ? Optional.of(sized) : Optional.empty();
    }
  }

  /**
   * The smallest bank for this work and room, or why there is none. Some tens of milliseconds.
   *
   * @param room for the winding, around the work and centred like it; its own turns are not looked
   *     at; it has a depth
   * @throws IllegalArgumentException if the room has no depth
   */
  public Answer bankFor(Work work, Winding room) {
    if (!(room.depthMetres() > 0)) {
      throw new IllegalArgumentException("a coil of no depth has no room for wire");
    }
    Winding oneTurn = room.withTurns(1);
    double henries = oneTurn.inductanceHenries();
    FieldInWork field = new FieldInWork(oneTurn.perAmpere(), work.shape());
    double perAmpere = field.least().amperesPerMetre();
    List<Candidate> candidates =
        WIRES_MM.stream()
            .flatMap(mm -> CoilDesign.wound(room, mm * 1e-3).stream())
            .map(coil -> new Candidate(coil, henries, perAmpere))
            .toList();
    return candidates.stream()
        .filter(candidate -> candidate.amps(work) <= currentMax.amps())
        .filter(candidate -> candidate.does(work, faradsMax(), voltageMax.volts()))
        .min(Comparator.comparingDouble(candidate -> candidate.leastFarads(work)))
        .<Answer>map(candidate -> candidate.sized(work))
        .orElseGet(() -> new Answer.None(why(work, candidates)));
  }

  private double faradsMax() {
    return 2 * energyMax.joules() / (voltageMax.volts() * voltageMax.volts());
  }

  private String why(Work work, List<Candidate> candidates) {
    Optional<Candidate> best =
        candidates.stream().max(Comparator.comparingDouble(Candidate::mostField));
    if (best.isEmpty()) {
      return "the room for the winding is too small for a single turn of the thinnest wire";
    }
    double reached = best.get().mostField();
    CoilDesign coil = best.get().coil();
    return reached < work.field().amperesPerMetre()
        ? String.format(
            Locale.ROOT,
            "%s, %s and %s reach %s where the magnet needs %s, with the best wire for this room"
                + " (%.0f turns of %.2f mm): wind closer around the magnet or further along it,"
                + " shorten the leads, or charge it between jaws",
            voltageMax.written(),
            energyMax.written(),
            currentMax.written(),
            new FieldStrength(reached).written(),
            work.field().written(),
            coil.winding().turns(),
            coil.wire().diameterMetres() * 1e3)
        : String.format(
            Locale.ROOT,
            "%s, %s and %s reach the field, but no pulse of them lasts the %.2f ms that the"
                + " magnet's middle needs: give the winding more room, or charge it between jaws",
            voltageMax.written(),
            energyMax.written(),
            currentMax.written(),
            work.leastBaseSeconds() * 1e3);
  }

  /** One wire in the room. */
  private final class Candidate {
    private final CoilDesign coil;
    private final double henries;
    private final double fieldPerAmp;

    Candidate(CoilDesign coil, double henriesPerSquaredTurn, double fieldPerAmpAndTurn) {
      double turns = coil.winding().turns();
      this.coil = coil;
      this.henries = turns * turns * henriesPerSquaredTurn;
      this.fieldPerAmp = turns * fieldPerAmpAndTurn;
    }

    CoilDesign coil() {
      return coil;
    }

    Discharge pulse(double farads, double volts) {
      double ohms = coil.ohmsAt(warmest);
      PulseCircuit loop = new PulseCircuit(ohms + pathOhms, henries, farads);
      return new Discharge(loop, ohms, new Voltage(volts), Double.POSITIVE_INFINITY);
    }

    double field(double farads, double volts) {
      return fieldPerAmp * pulse(farads, volts).peakAmps();
    }

    /** Peak current that makes the field wanted. */
    double amps(Work work) {
      return work.field().amperesPerMetre() / fieldPerAmp;
    }

    /** The most that the limits leave. */
    double mostField() {
      double driven = field(faradsMax(), voltageMax.volts());
      return Math.min(driven, fieldPerAmp * currentMax.amps());
    }

    boolean does(Work work, double farads, double volts) {
      return field(farads, volts) >= work.field().amperesPerMetre()
          && pulse(farads, volts).baseSeconds() >= work.leastBaseSeconds();
    }

    double leastFarads(Work work) {
      double low = Math.log(FARADS_MIN);
      double high = Math.log(faradsMax());
      for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (low + high);
        boolean does = does(work, Math.exp(middle), voltageMax.volts());
        low = does ? low : middle;
        high = does ? middle : high;
      }
      return Math.exp(high);
    }

    Answer.Sized sized(Work work) {
      double farads = sold(leastFarads(work));
      double low = 0;
      double high = voltageMax.volts();
      for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (low + high);
        boolean does = field(farads, middle) >= work.field().amperesPerMetre();
        low = does ? low : middle;
        high = does ? middle : high;
      }
      return new Answer.Sized(coil, pulse(farads, high), fieldPerAmp);
    }
  }

  /** The next value that is sold, unless the limit lies between: then as it is, of several. */
  private double sold(double farads) {
    double decade = Math.pow(10, Math.floor(Math.log10(farads)));
    double next =
        PREFERRED.stream()
            .mapToDouble(value -> value * decade)
            .filter(value -> value >= farads)
            .min()
            .orElse(farads);
    return next <= faradsMax() ? next : farads;
  }
}
