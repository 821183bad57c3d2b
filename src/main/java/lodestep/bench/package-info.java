/** The bench's work: plans, batches, and what follows from them. */
@NullMarked
package lodestep.bench;

import org.jspecify.annotations.NullMarked;
