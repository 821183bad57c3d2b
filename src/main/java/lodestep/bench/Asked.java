package lodestep.bench;

import lodestep.dial.Percent;
import lodestep.dial.Task;
import lodestep.dial.Tolerance;

/**
 * A task in the units of the record; what does not apply is 0. Any thread, immutable.
 *
 * @see lodestep.port.LedgerEvent.MagnetNamed
 */
record Asked(
    long targetMicroTesla,
    long dropMicroTesla,
    long dropPartsPerMillion,
    long toleranceMicroTesla,
    long tolerancePartsPerMillion,
    long unchargedMicroTesla) {

  static Asked of(Task task) {
    return task.match(
        level -> new Asked(level.target().microTesla(), 0, 0, level.tolerance().microTesla(), 0, 0),
        Asked::down,
        none -> new Asked(0, 0, 0, 0, 0, none.limit().microTesla()),
        full -> new Asked(0, 0, 0, 0, 0, 0));
  }

  private static Asked down(Task.DownBy down) {
    Tolerance tolerance = down.tolerance();
    return new Asked(
        0,
        down.drop().match(by -> by.amount().microTesla(), part -> 0L),
        down.drop().match(by -> 0L, part -> Percent.partsPerMillion(part.fraction())),
        tolerance.match(fixed -> fixed.halfWidth().microTesla(), part -> 0L),
        tolerance.match(fixed -> 0L, part -> Percent.partsPerMillion(part.fraction())),
        0);
  }
}
