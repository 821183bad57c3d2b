package lodestep.dial;

import lodestep.measure.Settling;
import lodestep.measure.SettlingRule;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.Temperature;

/** From the head's counts to flux density, with the attempt's zero and calibration. */
final class Gauge {

  private static final double ROOM_DEG_C = 20.0;

  private Gauge() {}

  /** One line's counts as flux density in tesla, signed. */
  static double tesla(Dial dial, HeadFrame.Status status) {
    Temperature temperature = Temperature.ofDegC(status.gaugeCentiDegC() * 1e-2);
    return dial.work()
        .calibration()
        .fluxDensity(status.hallCounts(), dial.zero().gauge().counts(), temperature)
        .tesla();
  }

  /** The settling of a reading begins. */
  static Settling settling(Dial dial, long nowNs) {
    return Settling.start(
        SettlingRule.reading(dial.work().calibration(), SettlingRule.READING_WANDER_TESLA), nowNs);
  }

  /** The coil's temperature in the newest line; room temperature before the first. */
  static Temperature coilTemperature(View view) {
    return Temperature.ofDegC(
        view.status().map(status -> status.frame().coilCentiDegC() * 1e-2).orElse(ROOM_DEG_C));
  }

  /** The gauge's own in the newest line; room temperature before the first. */
  static Temperature temperature(View view) {
    return Temperature.ofDegC(
        view.status().map(status -> status.frame().gaugeCentiDegC() * 1e-2).orElse(ROOM_DEG_C));
  }
}
