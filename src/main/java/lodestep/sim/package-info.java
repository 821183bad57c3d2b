/**
 * The virtual rig: a plant with relays, bank, coil, magnet and heat, and twins of every port that
 * stand before it; one thread, virtual time, everything drawn from one seed. It reads no clock and
 * does no I/O.
 */
@NullMarked
package lodestep.sim;

import org.jspecify.annotations.NullMarked;
