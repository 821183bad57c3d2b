/**
 * Orders and batches: the plan of a batch read into records that name every magnet and its task.
 * Reads no file and starts no thread; a plan comes in as bytes or text.
 */
@NullMarked
package lodestep.bench;

import org.jspecify.annotations.NullMarked;
