/** Style as tests: the import picture, banned calls, the shape of sources and documents. */
@NullMarked
package lodestep.tidy;

import org.jspecify.annotations.NullMarked;
