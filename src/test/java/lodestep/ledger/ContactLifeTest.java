package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import lodestep.config.RelayConfig;
import lodestep.port.ActEvent;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;

/**
 * Goal: how much of the relays' life is used is told from the record, and said before it is over.
 */
class ContactLifeTest {

  private static final Instant OLD = Instant.parse("2026-11-01T23:00:00Z");
  private static final Instant NEW = Instant.parse("2026-11-02T06:00:00Z");

  private final List<EventDraft> drafts = new ArrayList<>();

  private void pulses(int count, Instant at) {
    for (int i = 0; i < count; i++) {
      drafts.add(
          new EventDraft(
              new ActEvent.PulseIntended(
                  1, 1, i, "charge", true, true, 40_000, 40_100, 90_000, 12_000, "rod coil"),
              i,
              at));
    }
  }

  private ContactLife life(RelayConfig relays) {
    MemoryStore store = new MemoryStore();
    store.commit(Chain.link(store.newest(), drafts));
    return ContactLife.of(store, relays);
  }

  @Test
  void countsEachPulseAndEachProofOnce() {
    pulses(7, NEW);
    drafts.add(new EventDraft(new LedgerEvent.BankProven(1, 6_000, 6_000, 1, 0, 3_000, 1), 9, NEW));
    drafts.add(
        new EventDraft(
            new ActEvent.SwitchedPulseIntended(
                1, 1, 1, "charge", true, true, 0, 60_000, 24_000, 90_000, 12_000, "coil"),
            10,
            NEW));
    drafts.add(new EventDraft(new LedgerEvent.ProgramStopped("ended by a person"), 11, NEW));

    ContactLife life = life(new RelayConfig(10_000, ""));

    assertThat(life.worked()).isEqualTo(9);
    assertThat(life.part()).isCloseTo(9e-4, within(1e-12));
    assertThat(life.nearlyOver()).isFalse();
    assertThat(life.sentence()).contains("about 9 times", "0.1 % of the 10,000");
  }

  @Test
  void countsFromTheDayOnWhichTheRelaysWereNew() {
    pulses(40, OLD);
    pulses(3, NEW);

    ContactLife life = life(new RelayConfig(1_000, "2026-11-02"));

    assertThat(life.worked()).isEqualTo(3);
    assertThat(life.sentence()).contains("since 2026-11-02");
  }

  @Test
  void saysWhenItIsNearlyOverAndWhenItIsOver() {
    pulses(799, NEW);
    assertThat(life(new RelayConfig(1_000, "")).sentence()).doesNotContain("used up");
    pulses(1, NEW);
    assertThat(life(new RelayConfig(1_000, "")).nearlyOver()).isTrue();
    assertThat(life(new RelayConfig(1_000, "")).sentence()).contains("have new ones at hand");
    pulses(199, NEW);
    assertThat(life(new RelayConfig(1_000, "")).over()).isFalse();
    pulses(1, NEW);
    assertThat(life(new RelayConfig(1_000, "")).over()).isTrue();
    assertThat(life(new RelayConfig(1_000, "")).sentence()).contains("have them replaced");
  }

  @Test
  void saysThatNobodyHasNamedALimit() {
    pulses(12, NEW);

    ContactLife life = life(RelayConfig.NONE);

    assertThat(life.nearlyOver()).isFalse();
    assertThat(life.part()).isZero();
    assertThat(life.sentence()).contains("about 12 times", "is not said", "[relays] of rig.toml");
  }
}
