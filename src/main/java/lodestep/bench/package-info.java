/**
 * The bench's work: the plan of a batch read into records that name every magnet and its task, the
 * batch under way, and what follows from it. Reads no file and starts no thread.
 */
@NullMarked
package lodestep.bench;

import org.jspecify.annotations.NullMarked;
