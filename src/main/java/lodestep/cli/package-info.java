/** The command line: commands, and what they print. */
@NullMarked
package lodestep.cli;

import org.jspecify.annotations.NullMarked;
