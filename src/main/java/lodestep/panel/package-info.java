/**
 * The page at the bench: a small server inside the program, off the control path. It reads the
 * newest look at the rig and hands over what people ask; it drives nothing, and nothing in it can
 * hold the control loop up.
 */
@NullMarked
package lodestep.panel;

import org.jspecify.annotations.NullMarked;
