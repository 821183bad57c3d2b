package lodestep.app;

import java.util.List;
import java.util.function.Consumer;
import lodestep.port.EventDraft;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;

/** A ledger that also tells somebody each event as it is handed over; he must not block. */
record ToldLedger(Ledger ledger, Consumer<LedgerEvent> told) implements Ledger {

  @Override
  public long nextNumber() {
    return ledger.nextNumber();
  }

  @Override
  public void append(EventDraft draft) {
    ledger.append(draft);
    told.accept(draft.event());
  }

  @Override
  public void append(List<EventDraft> drafts) {
    ledger.append(drafts);
    drafts.forEach(draft -> told.accept(draft.event()));
  }

  @Override
  public LedgerState state() {
    return ledger.state();
  }

  @Override
  public void close() {
    ledger.close();
  }
}
