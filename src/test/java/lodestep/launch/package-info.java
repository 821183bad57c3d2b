/** The launcher script, run in a repository of its own with stand-ins for Java and Maven. */
@NullMarked
package lodestep.launch;

import org.jspecify.annotations.NullMarked;
