/** Tests of the head's lines. */
@NullMarked
package lodestep.protocol;

import org.jspecify.annotations.NullMarked;
