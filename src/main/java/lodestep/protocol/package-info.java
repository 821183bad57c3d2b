/**
 * The lines that host and head exchange: frames, requests, their text form and its CRC. Pure; no
 * I/O, no clock.
 */
@NullMarked
package lodestep.protocol;

import org.jspecify.annotations.NullMarked;
