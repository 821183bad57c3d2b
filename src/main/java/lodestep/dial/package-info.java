/**
 * Dialing one magnet: which pulse next, and the sequence from the seated magnet to the verdict. No
 * I/O, no thread, no clock.
 */
@NullMarked
package lodestep.dial;

import org.jspecify.annotations.NullMarked;
