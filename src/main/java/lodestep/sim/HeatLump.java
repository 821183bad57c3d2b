package lodestep.sim;

import lodestep.config.CoilConfig;
import lodestep.config.JigConfig;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.quantity.Temperature;

/**
 * What the head's coil thermometer sits at: the coil, the jig's motor where there is none, or, at a
 * head alone, a lump that nothing warms.
 */
final class HeatLump {

  /** What a small stepper motor turns into heat while its driver is on; configuration. */
  static final double MOTOR_WATTS = 3;

  /** A small stepper motor and its bracket; configuration. */
  private static final double MOTOR_JOULES_PER_KELVIN = 110;

  private static final double MOTOR_KELVIN_PER_WATT = 7;

  /** What nothing warms has no limit that matters; as a head takes it that was told of no coil. */
  private static final double NOTHING_DEG_C = 70;

  private HeatLump() {}

  /** The coil around this nest, or the motor in its place as a lump of heat. */
  static CoilConfig around(NestConfig nest, RigConfig rig) {
    return nest.coil().isEmpty()
        ? new CoilConfig(
            "",
            1,
            1e-3,
            1,
            1,
            MOTOR_JOULES_PER_KELVIN,
            MOTOR_KELVIN_PER_WATT,
            rig.jig().map(JigConfig::temperatureMax).orElse(Temperature.ofDegC(NOTHING_DEG_C)))
        : rig.coil(nest.coil());
  }
}
