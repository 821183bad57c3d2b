package lodestep.cli;

import lodestep.dial.Task;
import lodestep.port.Sound;
import lodestep.quantity.FluxDensity;

/**
 * The band a reading shall come into, as something to be heard. Readings count along the pole: what
 * is above the band is still to come down. Any thread, immutable.
 *
 * @param lowTesla the band's far edge; below it a reading is past; of any sign
 * @param highTesla the band's near edge, in tesla, above the far one
 */
record SoundBand(double lowTesla, double highTesla) {

  /** A level with so much on each side. */
  static SoundBand of(FluxDensity target, FluxDensity tolerance) {
    double level = Math.abs(target.tesla());
    return new SoundBand(level - tolerance.tesla(), level + tolerance.tesla());
  }

  /**
   * The band of a task.
   *
   * @param asFound the magnet's first settled reading, signed
   */
  static SoundBand of(Task task, FluxDensity asFound) {
    return task.match(
        level -> of(level.target(), level.tolerance()),
        down ->
            down.from(asFound)
                .map(level -> of(level.target(), level.tolerance()))
                .orElseGet(() -> new SoundBand(0, 0)),
        none -> new SoundBand(-none.limit().tesla(), none.limit().tesla()),
        full -> new SoundBand(0, 0));
  }

  /**
   * How far a reading has come from the furthest one to the band's near edge.
   *
   * @param furthestTesla the reading at which the way began
   * @return 0 to 1; 1 at the near edge and beyond it
   */
  double nearness(double tesla, double furthestTesla) {
    double whole = furthestTesla - highTesla;
    double left = tesla - highTesla;
    return left <= 0 ? 1 : whole <= left ? 0 : 1 - left / whole;
  }

  /** How a reading sounds: above the band rising, inside it steady, below it past. */
  Sound sound(double tesla, double furthestTesla) {
    if (tesla < lowTesla) {
      return new Sound.Past();
    }
    return tesla <= highTesla
        ? new Sound.Inside()
        : new Sound.Rising(nearness(tesla, furthestTesla));
  }
}
