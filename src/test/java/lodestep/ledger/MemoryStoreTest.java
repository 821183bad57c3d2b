package lodestep.ledger;

import java.util.List;
import lodestep.contract.EventStoreContract;
import lodestep.port.ChainEnd;
import lodestep.port.EventStore;

class MemoryStoreTest extends EventStoreContract {

  @Override
  protected EventStore created() {
    MemoryStore store = new MemoryStore();
    store.commit(SampleEvents.chained(ChainEnd.EMPTY, List.of(SampleEvents.twoMagnets().get(0))));
    return store;
  }
}
