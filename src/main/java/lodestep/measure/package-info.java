/**
 * What a reading is worth: calibration, settling, uncertainty, acceptance. Pure; knows nothing of
 * magnets' physics or the rig.
 */
@NullMarked
package lodestep.measure;

import org.jspecify.annotations.NullMarked;
