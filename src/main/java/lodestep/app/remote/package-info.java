/**
 * The virtual rig in a process of its own, its head on a serial line, and the host's end of it; the
 * two move on together in virtual time, so that nothing hangs on how fast either is.
 */
@NullMarked
package lodestep.app.remote;

import org.jspecify.annotations.NullMarked;
