/**
 * Physical quantities as values: SI inside, the winder's units at the edge. Pure; imports nothing
 * of the project.
 */
@NullMarked
package lodestep.quantity;

import org.jspecify.annotations.NullMarked;
