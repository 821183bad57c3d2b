/** What a level means to the strings above it: pull, pitch, beats, signal; and the coil's own. */
@NullMarked
package lodestep.voice;

import org.jspecify.annotations.NullMarked;
