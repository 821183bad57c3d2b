/**
 * One cycle of the control loop: read, judge, step the job, drive, read back, tell. No thread and
 * no sleep of its own; the caller decides when a cycle runs and on which clock.
 */
@NullMarked
package lodestep.scan;

import org.jspecify.annotations.NullMarked;
