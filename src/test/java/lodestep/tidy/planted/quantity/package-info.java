/** Planted breaches of the rules for pure packages, to show that the rules find them. */
@NullMarked
package lodestep.tidy.planted.quantity;

import org.jspecify.annotations.NullMarked;
