/** Builds and drives the head's firmware on this computer; knows nothing of the host but lines. */
@NullMarked
package lodestep.firmware;

import org.jspecify.annotations.NullMarked;
