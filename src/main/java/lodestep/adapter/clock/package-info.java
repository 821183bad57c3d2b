/** The machine's clocks; the only place that asks it for the time. */
@NullMarked
package lodestep.adapter.clock;

import org.jspecify.annotations.NullMarked;
