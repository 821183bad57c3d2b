/**
 * What may be energised now, and why everything must be let go: pure functions over the contacts,
 * the head's lines and the levels driven. No I/O, no thread, no clock; believes no job.
 */
@NullMarked
package lodestep.interlock;

import org.jspecify.annotations.NullMarked;
