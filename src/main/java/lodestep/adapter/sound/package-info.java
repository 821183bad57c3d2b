/** A tone from the computer's loudspeaker. Knows of sounds alone, not of readings. */
@NullMarked
package lodestep.adapter.sound;

import org.jspecify.annotations.NullMarked;
