/** Draws curves into files. The only package that knows the drawing library. */
@NullMarked
package lodestep.adapter.plot;

import org.jspecify.annotations.NullMarked;
