package lodestep.adapter.sqlite;

import java.nio.file.Path;
import java.time.Instant;
import lodestep.config.RigKind;
import lodestep.contract.EventStoreContract;
import lodestep.ledger.LedgerBinding;
import lodestep.port.EventStore;
import org.junit.jupiter.api.io.TempDir;

class SqliteStoreContractTest extends EventStoreContract {

  private final Path folder;

  SqliteStoreContractTest(@TempDir Path folder) {
    this.folder = folder;
  }

  @Override
  protected EventStore created() {
    return SqliteStore.open(
        folder.resolve("attic.ledger"),
        new LedgerBinding("attic", RigKind.VIRTUAL),
        0,
        Instant.EPOCH);
  }
}
