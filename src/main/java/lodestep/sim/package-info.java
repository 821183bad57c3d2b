/**
 * The virtual rig: a plant with magnets, and a virtual twin behind every port, in virtual time and
 * on one thread.
 */
@NullMarked
package lodestep.sim;

import org.jspecify.annotations.NullMarked;
