package lodestep.bench;

import lodestep.dial.Purpose;
import lodestep.quantity.FluxDensity;

/**
 * Something a person is asked to do to the magnet. Any thread, immutable.
 *
 * @param drivesNorth whether it drives the gauge's face north
 * @param asked in words, for the record
 * @param before the settled reading before it, signed
 */
record HandAct(Purpose purpose, boolean drivesNorth, String asked, FluxDensity before) {}
