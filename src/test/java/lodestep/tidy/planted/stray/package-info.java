/** A package that the import picture does not know. */
@NullMarked
package lodestep.tidy.planted.stray;

import org.jspecify.annotations.NullMarked;
