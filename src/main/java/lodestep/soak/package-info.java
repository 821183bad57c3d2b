/**
 * The simulator as a test instrument: the whole host on a virtual rig, in virtual time, with seeded
 * persons, faults, kills and power cuts, and with every safety rule watched each millisecond. Does
 * no I/O, starts no thread and reads no clock; one run is a pure function of its seed and settings.
 */
@NullMarked
package lodestep.soak;

import org.jspecify.annotations.NullMarked;
