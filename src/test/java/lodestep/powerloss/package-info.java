/**
 * What a power cut or a failing disk leaves of the record, tried on the real program: its writes
 * and syncs are written down by a library loaded before the C library, and played again up to each
 * of them.
 */
@NullMarked
package lodestep.powerloss;

import org.jspecify.annotations.NullMarked;
