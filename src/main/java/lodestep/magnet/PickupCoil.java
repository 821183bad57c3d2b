package lodestep.magnet;

import java.util.Locale;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;
import org.hipparchus.analysis.solvers.BrentSolver;

/**
 * A pickup's own winding around the magnet, while a pulse goes through the pulse coil around both.
 * Any thread, immutable.
 *
 * <p>Flux linked is λ = N A µ0 H<sub>a</sub> + (J/µ0) ∫ b dV: the applied field, alike everywhere,
 * through the mean turn, and by reciprocity the magnet's polarisation through the field b that one
 * ampere in the winding makes in the magnet. The open winding's voltage is dλ/dt; the shorted one's
 * current obeys L di/dt + R i = −dλ/dt. The magnet is taken as fully charged before the pulse and
 * driven against that, the worst case, along its loop with its shape's load line and with no eddy
 * currents; the winding's capacitance, which would blunt the voltage, is left out. So the voltage
 * is an upper bound.
 *
 * @param winding its bore around the magnet, both centred alike
 * @param ohms of the wire from end to end, above zero
 */
public record PickupCoil(Winding winding, double ohms) {

  /**
   * What a pickup's winding is trusted with between its ends where nothing better is known: common
   * practice, no source; to be set for the rig.
   */
  public static final Voltage USUAL_LIMIT = new Voltage(100);

  private static final int STEPS = 1200;
  private static final int EVALUATIONS_MAX = 200;

  /** In A/m; thousandths of what the coarsest step changes. */
  private static final double NET_ACCURACY = 1e-6;

  /**
   * @throws IllegalArgumentException if the resistance is not above zero
   */
  public PickupCoil {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(ohms > 0 && ohms < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(
          "a pickup winding's resistance has to be above zero: " + ohms + " ohms");
    }
  }

  /** From the magnet to the winding's copper, for the bobbin: common practice, no source. */
  public static final Length BOBBIN = Length.ofMm(0.5);

  /** Of the room, the copper: fine wire, scatter-wound; common practice, no source. */
  private static final double FILLED = 0.45;

  private static final Temperature ROOM = Temperature.ofDegC(20);

  /**
   * A winding close around a magnet and as long as it, of so many turns in so much room; the wire
   * follows from that.
   *
   * @param turns above zero
   * @param depth of copper, above zero
   */
  public static PickupCoil around(Shape magnet, double turns, Length depth) {
    Winding winding = CoilDesign.roomAround(magnet, BOBBIN, depth, new Length(0)).withTurns(turns);
    double copper = FILLED * winding.depthMetres() * winding.lengthMetres() / turns;
    CoilWire wire = new CoilWire(Math.sqrt(4 * copper / Math.PI), turns * winding.turnMetres());
    return new PickupCoil(winding, wire.ohmsAt(ROOM));
  }

  /**
   * A pulse as the winding meets it.
   *
   * @param fieldPerAmp of the pulse coil at the work, in A/m for one ampere, above zero
   */
  public record Pulse(Discharge discharge, double fieldPerAmp) {}

  /**
   * The magnet inside.
   *
   * @param loop of its alloy
   */
  public record Magnet(Shape shape, Hysteresis loop) {}

  /**
   * What a pulse does to the winding.
   *
   * @param openVolts highest voltage between the ends of the open winding, without sign
   * @param shortedAmps highest current in the winding with its ends joined, without sign
   * @param keptOutFraction flux of that current over the greatest change of the flux linked: what
   *     the shorted winding keeps out of the magnet at most
   * @param shortedJoules heat in the shorted winding
   */
  public record Induced(
      double openVolts, double shortedAmps, double keptOutFraction, double shortedJoules) {

    /**
     * Why this winding may not be pulsed, in one sentence that offers another way; empty if it may.
     * The open winding is what is judged: nobody can prove to the rig that the ends are joined.
     */
    public Optional<String> refusal(Voltage limit) {
      return openVolts <= limit.volts()
          ? Optional.empty()
          : Optional.of(
              String.format(
                  Locale.ROOT,
                  "a pulse would induce up to %.0f V in the pickup's winding, which is trusted"
                      + " with %.0f V: charge this pickup between jaws, and knock it down with the"
                      + " jig or by hand",
                  openVolts,
                  limit.volts()));
    }
  }

  /** What this pulse induces. A few milliseconds. */
  public Induced by(Pulse pulse, Magnet magnet) {
    double turnsArea = winding.turns() * winding.turnSquareMetres();
    FieldInWork own = new FieldInWork(winding.perAmpere(), magnet.shape());
    double perTesla = own.mean().amperesPerMetre() * magnet.shape().volumeCubicMetres();
    Linked linked = new Linked(pulse, magnet, turnsArea, perTesla);
    double henries = winding.inductanceHenries();
    double end = endSeconds(pulse.discharge());
    double atStart = linked.webers(0);
    double before = atStart;
    double amps = 0;
    double swing = 0;
    double openVolts = 0;
    double shortedAmps = 0;
    double joules = 0;
    for (int i = 1; i <= STEPS; i++) {
      // Finer at the start, where the applied field rises fastest.
      double from = end * square((i - 1.0) / STEPS);
      double step = end * square((double) i / STEPS) - from;
      double now = linked.webers(from + step);
      double volts = (now - before) / step;
      double lag = Math.exp(-step * ohms / henries);
      amps = amps * lag - volts / ohms * (1 - lag);
      before = now;
      swing = Math.max(swing, Math.abs(now - atStart));
      openVolts = Math.max(openVolts, Math.abs(volts));
      shortedAmps = Math.max(shortedAmps, Math.abs(amps));
      joules += ohms * amps * amps * step;
    }
    // What still flows runs down by itself.
    joules += 0.5 * henries * amps * amps;
    return new Induced(openVolts, shortedAmps, henries * shortedAmps / swing, joules);
  }

  /** Flux linked with the winding in the course of a pulse. */
  private static final class Linked {
    private final Pulse pulse;
    private final Hysteresis loop;
    private final double shear;
    private final double turnsArea;
    private final double perTesla;
    private final double turnSeconds;
    private final double turnNet;
    private final double turnTesla;

    Linked(Pulse pulse, Magnet magnet, double turnsArea, double perTesla) {
      this.pulse = pulse;
      this.loop = magnet.loop();
      this.shear = magnet.shape().demagnetisingFactor() / Mu0.TESLA_PER_AMPERE_PER_METRE;
      this.turnsArea = turnsArea;
      this.perTesla = perTesla;
      this.turnSeconds = pulse.discharge().peakSeconds();
      this.turnNet = net(applied(turnSeconds), loop::descendingTesla);
      this.turnTesla = loop.descendingTesla(turnNet);
    }

    double webers(double seconds) {
      double applied = applied(seconds);
      DoubleUnaryOperator branch = seconds <= turnSeconds ? loop::descendingTesla : this::rising;
      double tesla = branch.applyAsDouble(net(applied, branch));
      return Mu0.TESLA_PER_AMPERE_PER_METRE * applied * turnsArea + tesla * perTesla;
    }

    private double applied(double seconds) {
      return -pulse.fieldPerAmp() * pulse.discharge().ampsAt(seconds);
    }

    private double rising(double net) {
      return turnTesla
          + loop.everettTesla(net, turnNet)
          + loop.reversibleTesla(net)
          - loop.reversibleTesla(turnNet);
    }

    /** The field inside: it rises with the applied one by no more than that, which brackets it. */
    private double net(double applied, DoubleUnaryOperator branch) {
      double own = shear * branch.applyAsDouble(applied);
      double low = Math.min(applied, applied - own) - 1;
      double high = Math.max(applied, applied - own) + 1;
      return new BrentSolver(NET_ACCURACY)
          .solve(
              EVALUATIONS_MAX, net -> net + shear * branch.applyAsDouble(net) - applied, low, high);
    }
  }

  /** When the coil's current has died away. */
  private static double endSeconds(Discharge discharge) {
    PulseCircuit loop = discharge.loop();
    double tail = loop.inductanceHenries() / discharge.coilOhms();
    double bank = loop.resistanceOhms() * loop.capacitanceFarads();
    return Math.min(discharge.gateSeconds(), 6 * (tail + bank)) + 6 * tail;
  }

  private static double square(double value) {
    return value * value;
  }
}
