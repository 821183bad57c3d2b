/**
 * Physics of one magnet: alloys, shapes, hysteresis and the field at a pole face. Pure; knows
 * nothing of gauges, coils or the rig.
 */
@NullMarked
package lodestep.magnet;

import org.jspecify.annotations.NullMarked;
