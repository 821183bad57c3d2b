package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import lodestep.cli.Refusal;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.ledger.Chain;
import lodestep.ledger.MemoryStore;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;

/** Goal: a batch that fires is not begun on a rig whose bank is worn out by its record. */
class LearnedBeforeTest {

  private static final RigConfig RIG = ReferenceRig.virtual();

  private static MemoryStore proofs(long newestMicros) {
    List<EventDraft> drafts = new ArrayList<>();
    for (int i = 0; i < 25; i++) {
      long micros = i < 20 ? 340_000 : newestMicros;
      LedgerEvent proof = new LedgerEvent.BankProven(1, 6_000, 6_000, 1, 2, 3_000, micros);
      drafts.add(new EventDraft(proof, i, Instant.EPOCH));
    }
    MemoryStore store = new MemoryStore();
    store.commit(Chain.link(store.newest(), drafts));
    return store;
  }

  @Test
  void refusesABatchOnABankThatHasLostATenth() {
    assertThatThrownBy(() -> LearnedBefore.forBatch(proofs(300_000), RIG))
        .isInstanceOf(Refusal.class)
        .hasMessageContaining("has lost 11.8 % of its capacitance")
        .hasMessageContaining("no batch is begun");
  }

  @Test
  void beginsABatchOnABankThatOnlyWarnsAndReadsAgainOnAny() {
    assertThat(LearnedBefore.forBatch(proofs(320_000), RIG).wear().bank().low()).isTrue();
    assertThat(LearnedBefore.of(proofs(300_000), RIG).wear().bank().lost()).isTrue();
  }
}
