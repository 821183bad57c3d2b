package lodestep.interlock;

import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;

/**
 * Whether gauge and coil thermometer are alive.
 *
 * @param gauge repeats of the gauge's sample counter
 * @param coil repeats of the coil's raw temperature
 * @param offScale status lines in a row with a coil temperature at an end of its scale
 */
record SensorWatch(Repeats gauge, Repeats coil, int offScale) {

  static final SensorWatch POWER_ON = new SensorWatch(Repeats.NONE, Repeats.NONE, 0);

  /** Status lines with a standing sample counter that make a frozen gauge: a tenth of a second. */
  static final int GAUGE_REPEATS = 10;

  /** The same raw temperature, noise and all, for a second: no living converter does that. */
  static final int COIL_REPEATS = 100;

  /** One line off the scale may be interference; two are a broken sensor. */
  static final int OFF_SCALE_LINES = 2;

  /** No coil on a bench is colder or hotter than this; a broken sensor reads beyond. */
  static final int COIL_CENTI_DEG_C_MIN = -4_000;

  static final int COIL_CENTI_DEG_C_MAX = 15_000;

  SensorWatch step(Seen seen) {
    if (!seen.news()) {
      return this;
    }
    int raw = seen.head().coilCentiDegC();
    return new SensorWatch(
        gauge.step(seen.head().sampleCounter()), coil.step(raw), onScale(raw) ? 0 : offScale + 1);
  }

  private static boolean onScale(int centiDegC) {
    return centiDegC > COIL_CENTI_DEG_C_MIN && centiDegC < COIL_CENTI_DEG_C_MAX;
  }

  private boolean coilBroken() {
    return offScale >= OFF_SCALE_LINES || coil.count() >= COIL_REPEATS;
  }

  /** Whether the coil's temperature is known and below its limit. */
  boolean coilCool(Seen seen) {
    int centiDegC = seen.head().coilCentiDegC();
    return onScale(centiDegC) && !coilBroken() && centiDegC <= seen.figures().coilCentiDegCMax();
  }

  long causes(Seen seen) {
    int centiDegC = seen.head().coilCentiDegC();
    boolean hot =
        seen.known() && onScale(centiDegC) && centiDegC > seen.figures().coilCentiDegCMax();
    // The head does not wait for a second line; that it has let go already is proof enough.
    boolean letGo = offScale > 0 && seen.energised() && !seen.says(HeadFlag.PERMIT);
    return Causes.when(gauge.count() >= GAUGE_REPEATS, TripCause.GAUGE_FROZEN)
        | Causes.when(hot, TripCause.COIL_HOT)
        | Causes.when(coilBroken() || letGo, TripCause.COIL_SENSOR);
  }
}
