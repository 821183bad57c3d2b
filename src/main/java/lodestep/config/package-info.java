/** The rig's description, {@code rig.toml}, as records with units, ranges and reasons. Pure. */
@NullMarked
package lodestep.config;

import org.jspecify.annotations.NullMarked;
