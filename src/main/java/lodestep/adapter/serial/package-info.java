/**
 * The head's line over a serial port. The only importer of the serial library; it knows lines and
 * ports, and nothing of what they are used for.
 */
@NullMarked
package lodestep.adapter.serial;

import org.jspecify.annotations.NullMarked;
