/**
 * The rig's contacts and relays on the lines of a small board. The only importer of the board's
 * library; it drives and reads levels, and knows nothing of what they are used for.
 */
@NullMarked
package lodestep.adapter.gpio;

import org.jspecify.annotations.NullMarked;
