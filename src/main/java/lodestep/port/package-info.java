/**
 * What the program needs of the outside, as small interfaces: lines, head link, ledger, plan desk,
 * clocks, and the records that cross them. No implementation lives here.
 */
@NullMarked
package lodestep.port;

import org.jspecify.annotations.NullMarked;
