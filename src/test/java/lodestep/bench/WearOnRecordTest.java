package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import lodestep.config.BankConfig;
import lodestep.device.BankLeft;
import lodestep.ledger.Chain;
import lodestep.ledger.MemoryStore;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;

/** Goal: the wear of the rig's parts is told from its record, whichever program wrote it. */
class WearOnRecordTest {

  private static final Instant OLD = Instant.parse("2026-11-01T23:00:00Z");
  private static final Instant NEW = Instant.parse("2026-11-02T06:00:00Z");

  private final List<EventDraft> drafts = new ArrayList<>();

  /** Proofs that took this long to half, in microseconds. */
  private void proofs(int count, long halfMicros, Instant at) {
    for (int i = 0; i < count; i++) {
      drafts.add(
          new EventDraft(
              new LedgerEvent.BankProven(1, 6_000, 6_000, 120_000, 2, 3_000, halfMicros), i, at));
    }
  }

  private BankLeft left(String newSince) {
    MemoryStore store = new MemoryStore();
    store.commit(Chain.link(store.newest(), drafts));
    BankConfig bank =
        new BankConfig(22e-3, new Voltage(48), new Voltage(50), 47, 2000, 22, newSince);
    return WearOnRecord.bank(store, bank);
  }

  @Test
  void tellsWhatTheBankHasLostByItsProofs() {
    proofs(20, 340_000, OLD);
    proofs(5, 300_000, NEW);

    assertThat(left("").part().orElseThrow()).isCloseTo(300 / 340.0, within(1e-9));
    assertThat(left("").lost()).isTrue();
  }

  @Test
  void beginsAnewFromTheDayOnWhichTheCapacitorsWerePutIn() {
    proofs(20, 340_000, OLD);
    proofs(5, 300_000, NEW);

    assertThat(left("2026-11-02").part()).isEmpty();
    assertThat(left("2026-11-02").proofs()).isEqualTo(5);
    assertThat(left("2026-11-02").lost()).isFalse();
  }
}
