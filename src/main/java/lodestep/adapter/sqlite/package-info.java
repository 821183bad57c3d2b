/**
 * The ledger in one SQLite file. The only package that knows SQLite; holds no rule of the record's
 * form, which is {@code ledger}'s.
 */
@NullMarked
package lodestep.adapter.sqlite;

import org.jspecify.annotations.NullMarked;
