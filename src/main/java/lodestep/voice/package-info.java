/**
 * What a level means to the strings above it: pull, pitch, beats, signal; and the coil's own. The
 * answers are made here in words, tables and curves, which commands print and the page shows.
 */
@NullMarked
package lodestep.voice;

import org.jspecify.annotations.NullMarked;
