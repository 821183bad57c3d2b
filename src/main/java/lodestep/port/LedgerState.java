package lodestep.port;

import java.util.Optional;

/**
 * How the ledger stands.
 *
 * @param durableTo the highest event number that is safe on disk; 0 for none
 * @param fault why nothing more can be written: one sentence, what, where, what to do; empty while
 *     it works. Once there it stays for the life of this ledger.
 */
public record LedgerState(long durableTo, Optional<String> fault) {}
