/** Tests of the serial link over pseudo-terminals. */
@NullMarked
package lodestep.adapter.serial;

import org.jspecify.annotations.NullMarked;
