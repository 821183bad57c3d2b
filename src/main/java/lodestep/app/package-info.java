/** The program itself: the one place that chooses real or virtual and wires everything together. */
@NullMarked
package lodestep.app;

import org.jspecify.annotations.NullMarked;
