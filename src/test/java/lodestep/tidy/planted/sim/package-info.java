/** Planted use of a vendor's library outside its adapter. */
@NullMarked
package lodestep.tidy.planted.sim;

import org.jspecify.annotations.NullMarked;
