package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.quantity.Length;
import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;

/** A pickup's winding in a pulse coil. */
class PickupCoilTest {

  private static final double MU0 = 4e-7 * Math.PI;
  private static final double FOREVER = Double.POSITIVE_INFINITY;
  private static final double PER_AMP = 3000;
  private static final Shape.Rod ROD = new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5));
  private static final Hysteresis LOOP = new Hysteresis(1.25, 53e3, 6.3e3, 2.3);

  /** As good as no magnet at all. */
  private static final Hysteresis AIR = new Hysteresis(1e-9, 53e3, 6.3e3, 0);

  private static final PulseCircuit CHARGING = new PulseCircuit(0.35, 0.25e-3, 10e-3);

  private static PickupCoil.Pulse pulse(double volts) {
    return new PickupCoil.Pulse(new Discharge(CHARGING, 0.3, new Voltage(volts), FOREVER), PER_AMP);
  }

  private static PickupCoil coil(double turns, double ohms) {
    return new PickupCoil(new Winding.Round(3.2e-3, 8e-3, 12e-3, turns), ohms);
  }

  private static PickupCoil.Induced induced(double turns, double volts, Hysteresis loop) {
    return coil(turns, 6500).by(pulse(volts), new PickupCoil.Magnet(ROD, loop));
  }

  /** Faraday's law: without a magnet the highest voltage is N A µ0 dH/dt at the start, V/L. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void withoutAMagnetItIsFaradaysLaw() {
    double volts = induced(5200, 30, AIR).openVolts();

    double area = Math.PI * (3.2 * 3.2 + 3.2 * 8 + 8 * 8) / 3 * 1e-6;
    double expected = 5200 * area * MU0 * PER_AMP * 30 / 0.25e-3;
    assertThat(volts).isCloseTo(expected, within(1e-3 * expected));
  }

  /** The winding sees the magnet turn over besides, at most as steeply as its poles let it. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void aMagnetAddsItsOwnTurningOver() {
    double without = induced(5200, 30, AIR).openVolts();
    double with = induced(5200, 30, LOOP).openVolts();

    double slopeMax = 1 / ROD.demagnetisingFactor();
    double magnetArea = Math.PI * 2.45e-3 * 2.45e-3;
    double bound = without + 5200 * magnetArea * MU0 * slopeMax * PER_AMP * 30 / 0.25e-3;
    assertThat(with).isGreaterThan(1.1 * without).isLessThan(bound);
  }

  /**
   * Faraday's law summed up: a short that never lets go keeps the flux as it was, so the current is
   * the change of flux over the inductance.
   */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void aShortWithoutResistanceKeepsTheFlux() {
    PickupCoil.Induced kept = coil(5200, 1e-4).by(pulse(30), new PickupCoil.Magnet(ROD, AIR));

    Winding winding = coil(5200, 1).winding();
    double peakAmps = pulse(30).discharge().peakAmps();
    double change = MU0 * PER_AMP * peakAmps * 5200 * winding.turnSquareMetres();
    double expected = change / winding.inductanceHenries();
    assertThat(kept.shortedAmps()).isCloseTo(expected, within(0.01 * expected));
    assertThat(kept.keptOutFraction()).isCloseTo(1, within(0.01));
  }

  /** With much resistance and little inductance it is Ohm's law on the open winding's voltage. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void aShortOfMuchResistanceObeysOhm() {
    PickupCoil.Induced held = coil(5200, 5e6).by(pulse(30), new PickupCoil.Magnet(ROD, AIR));

    assertThat(held.shortedAmps())
        .isCloseTo(held.openVolts() / 5e6, within(1e-2 * held.openVolts() / 5e6));
    assertThat(held.keptOutFraction()).isLessThan(0.01);
  }

  @Test
  void aFullWindingIsRefusedAndOfferedJawsOrJig() {
    String why = induced(5200, 30, LOOP).refusal(PickupCoil.USUAL_LIMIT).orElseThrow();

    assertThat(why).contains("jaws").contains("jig").contains("100 V");
  }

  @Test
  void aFewTurnsAreAllowed() {
    assertThat(induced(20, 5, LOOP).refusal(PickupCoil.USUAL_LIMIT)).isEmpty();
    double volts = induced(20, 5, LOOP).openVolts();
    assertThat(induced(20, 5, LOOP).refusal(new Voltage(0.99 * volts))).isPresent();
  }

  @Test
  void refusesAWireWithoutResistance() {
    assertThatThrownBy(() -> coil(5200, 0)).hasMessageContaining("above zero");
  }
}
