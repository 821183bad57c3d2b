/**
 * What is handed over and what comes back: certificates, labels, return checks. Pure: made from the
 * record, with no clock and no file.
 */
@NullMarked
package lodestep.paper;

import org.jspecify.annotations.NullMarked;
