package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.Map;
import lodestep.port.ChainEnd;
import org.junit.jupiter.api.Test;

class DaySummaryTest {

  /** Counted by hand in {@link SampleEvents#twoMagnets}. */
  @Test
  void countsWhatWasDone() {
    MemoryStore store = new MemoryStore();
    store.commit(SampleEvents.chained(ChainEnd.EMPTY, SampleEvents.twoMagnets()));
    long day = Instant.parse("2026-03-04T00:00:00Z").toEpochMilli();

    DaySummary sum = DaySummary.of(store, day, day + 86_400_000);

    assertThat(sum.events()).isEqualTo(20);
    assertThat(sum.begun()).containsExactly("birds");
    assertThat(sum.ended()).isZero();
    assertThat(sum.magnets()).isEqualTo(2);
    assertThat(sum.attempts()).isEqualTo(3);
    assertThat(sum.open()).isEqualTo(1);
    assertThat(sum.verdicts()).isEqualTo(Map.of("tripped", 1L, "accepted", 1L));
    assertThat(sum.trips()).isEqualTo(Map.of("trip 12: the lid was opened", 1L));
    assertThat(sum.acts()).isEqualTo(Map.of("charge", 3L, "knock down", 1L));
    assertThat(sum.outcomes()).isEqualTo(Map.of("delivered", 2L, "unverified", 1L));
  }

  @Test
  void takesTheFirstMillisecondAndNotTheFirstAfterTheDay() {
    MemoryStore store = new MemoryStore();
    store.commit(SampleEvents.chained(ChainEnd.EMPTY, SampleEvents.twoMagnets()));
    long[] at = new long[21];
    store.forEach(1, 20, e -> at[(int) e.number()] = e.index().wallEpochMs());

    assertThat(DaySummary.of(store, at[5], at[10]).events()).isEqualTo(5);
    assertThat(DaySummary.of(store, at[5] + 1, at[10] + 1).events()).isEqualTo(5);
    assertThat(DaySummary.of(store, at[20] + 1, Long.MAX_VALUE).events()).isZero();
  }
}
