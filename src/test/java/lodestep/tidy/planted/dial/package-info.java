/** The layer above, for planted imports. */
@NullMarked
package lodestep.tidy.planted.dial;

import org.jspecify.annotations.NullMarked;
