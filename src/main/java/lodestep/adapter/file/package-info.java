/**
 * Files that are either there whole or not there at all, also after a power cut or on a full disk.
 * Knows nothing of what is in them.
 */
@NullMarked
package lodestep.adapter.file;

import org.jspecify.annotations.NullMarked;
