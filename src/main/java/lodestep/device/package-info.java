/**
 * The devices of the rig as pure steps over the records of {@code port}: the pulse coil. No I/O, no
 * thread, no clock.
 */
@NullMarked
package lodestep.device;

import org.jspecify.annotations.NullMarked;
