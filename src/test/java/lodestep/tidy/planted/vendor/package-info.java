/** Stands for a vendor's library. */
@NullMarked
package lodestep.tidy.planted.vendor;

import org.jspecify.annotations.NullMarked;
