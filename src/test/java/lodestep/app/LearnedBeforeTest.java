package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.cli.Refusal;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.config.ShippedRig;
import lodestep.ledger.Chain;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MemoryStore;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: no batch that fires is begun on a rig whose bank or relays are worn out by its record. */
class LearnedBeforeTest {

  private static final RigConfig RIG = ReferenceRig.virtual();

  private static List<EventDraft> drafts(long newestMicros) {
    return drafts(25, newestMicros);
  }

  private static List<EventDraft> drafts(int count, long newestMicros) {
    List<EventDraft> drafts = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      long micros = i < 20 ? 340_000 : newestMicros;
      LedgerEvent proof = new LedgerEvent.BankProven(1, 6_000, 6_000, 1, 2, 3_000, micros);
      drafts.add(new EventDraft(proof, i, Instant.EPOCH));
    }
    return drafts;
  }

  private static MemoryStore proofs(long newestMicros) {
    MemoryStore store = new MemoryStore();
    store.commit(Chain.link(store.newest(), drafts(newestMicros)));
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

  /** A rig whose relays may work so often. */
  private static RigConfig relays(int operations) {
    return ShippedRig.read(
        "rig-virtual.toml",
        text -> text.replaceFirst("operations = \\d+", "operations = " + operations));
  }

  @Test
  void refusesABatchOnRelaysThatHaveWorkedAsOftenAsTheyMay() {
    MemoryStore worked = new MemoryStore();
    worked.commit(Chain.link(worked.newest(), drafts(1_000, 340_000)));

    assertThatThrownBy(() -> LearnedBefore.forBatch(worked, relays(1_000)))
        .isInstanceOf(Refusal.class)
        .hasMessageContaining("100.0 % of the 1,000")
        .hasMessageContaining("no batch is begun");
    assertThat(LearnedBefore.forBatch(worked, relays(1_001)).wear().bank().lost()).isFalse();
  }

  @Test
  void tellsOfAWornBankByTheRigCommandAndRefusesToDialOnIt(@TempDir Path folder)
      throws IOException {
    Path low = worn(folder.resolve("low.ledger"), 320_000);
    Path lost = worn(folder.resolve("lost.ledger"), 300_000);

    assertThat(CommandRun.on(low, "rig").out()).contains("Mind: the bank has 94.1 %");
    assertThat(CommandRun.on(low, "rig", "--json").json().path("bankLeft").asDouble())
        .isCloseTo(320 / 340.0, within(1e-9));
    CommandRun.Ended dialed = CommandRun.on(low, CommandRun.ONE);
    assertThat(dialed.code()).isZero();
    assertThat(dialed.out()).contains("Mind: the bank has 94.1 %");
    assertThat(CommandRun.on(lost, "rig").out()).contains("Mind: the bank has lost 11.8 %");
    CommandRun.Ended refused = CommandRun.on(lost, CommandRun.ONE);
    assertThat(refused.code()).isEqualTo(2);
    assertThat(refused.err()).contains("has lost 11.8 % of its capacitance").contains("new_since");
  }

  private static Path worn(Path ledger, long newestMicros) {
    RigConfig shipped = new Wiring(Outside.unattended()).rig(Optional.empty());
    LedgerBinding binding = new LedgerBinding(shipped.name(), shipped.kind());
    try (SqliteStore store = SqliteStore.open(ledger, binding, 0, Instant.EPOCH)) {
      store.commit(Chain.link(store.newest(), drafts(newestMicros)));
    }
    return ledger;
  }
}
