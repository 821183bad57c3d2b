package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.config.RigKind;
import lodestep.contract.LedgerContract;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.Proof;
import lodestep.ledger.SampleEvents;
import lodestep.port.Bytes;
import lodestep.port.EventStore;
import lodestep.port.Ledger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class VirtualLedgerTest extends LedgerContract {

  private static final long MS = 1_000_000L;
  private static final long SCAN_NS = 5 * MS;

  @Override
  protected Ledger open(EventStore store) {
    return new VirtualLedger(11, store);
  }

  @Override
  protected void settle(Ledger ledger, long number) {
    VirtualLedger virtual = (VirtualLedger) ledger;
    for (long nowNs = 0; nowNs < 10_000 * MS; nowNs += SCAN_NS) {
      virtual.advance(nowNs);
    }
  }

  @Test
  void makesAnEventDurableADelayLaterAndNotBefore() {
    VirtualLedger ledger = new VirtualLedger(5);
    append(ledger, 1);

    long durableAtNs = durableAtNs(ledger, 1);

    // The lowest and the highest of the delays it draws from.
    assertThat(durableAtNs).isBetween(MS, 110 * MS);
  }

  @Test
  void drawsDelaysAsMeasured() {
    List<Long> delaysNs = new ArrayList<>();
    for (long seed = 0; seed < 4_000; seed++) {
      VirtualLedger ledger = new VirtualLedger(seed);
      append(ledger, 1);
      delaysNs.add(durableAtNs(ledger, 1));
    }
    delaysNs.sort(null);

    // Median and 99th percentile as the class says, within the spread of 4,000 draws: about one
    // draw in 63 at the median's density, three standard errors of the rank at the other.
    assertThat(delaysNs.get(2_000)).isBetween((long) (3.5 * MS), (long) (4.1 * MS));
    assertThat(delaysNs.get(3_940)).isBetween((long) (15.0 * MS), (long) (15.9 * MS));
    assertThat(delaysNs.get(3_999)).isGreaterThan(50 * MS);
  }

  @Test
  void givesTheSameForTheSameSeedAndOtherDelaysForAnother() {
    assertThat(durableTimes(3)).isEqualTo(durableTimes(3)).isNotEqualTo(durableTimes(4));
  }

  @Test
  void givesCanonicalBytesThatTellRunsApart() {
    assertThat(bytes(20, 3)).isEqualTo(bytes(20, 4)).isNotEqualTo(bytes(19, 3));
    assertThat(bytes(2, 3).utf8()).contains("\"kind\":\"batch-started\"").endsWith("}\n");
  }

  @Test
  void losesExactlyWhatWasNotDurableWhenPowerIsCut() {
    MemoryStore store = new MemoryStore();
    VirtualLedger ledger = new VirtualLedger(5, store);
    append(ledger, 1);
    append(ledger, 2);
    settle(ledger, 2);
    append(ledger, 3);
    ledger.advance(10_000 * MS);

    ledger.cutPower();
    ledger.advance(20_000 * MS);
    ledger.close();

    assertThat(ledger.state().fault()).isPresent();
    assertThat(events(store)).isEqualTo(SampleEvents.twoMagnets().subList(0, 2));
    VirtualLedger next = new VirtualLedger(6, store);
    assertThat(next.nextNumber()).isEqualTo(3);
  }

  @Test
  void failsWithTheDiskFullAndSaysSo() {
    VirtualLedger ledger = new VirtualLedger(5, storeWith(2));
    ledger.fillDisk();
    append(ledger, 3);

    settle(ledger, 3);

    assertThat(ledger.state().fault()).hasValueSatisfying(why -> assertThat(why).contains("full"));
    assertThat(ledger.state().durableTo()).isEqualTo(2);
  }

  @Test
  void failsWithTheDiskBrokenAndSaysSo() {
    VirtualLedger ledger = new VirtualLedger(5, storeWith(2));
    ledger.breakDisk();
    append(ledger, 3);

    ledger.close();

    assertThat(ledger.state().fault()).hasValueSatisfying(why -> assertThat(why).contains("error"));
    assertThat(ledger.state().durableTo()).isEqualTo(2);
  }

  @Test
  void stallsOneCommitAndThenGoesOn() {
    VirtualLedger ledger = new VirtualLedger(5);
    ledger.stallNext(3_000 * MS);
    append(ledger, 1);

    assertThat(durableAtNs(ledger, 1)).isBetween(3_001 * MS, 3_110 * MS);
  }

  @Test
  void leavesARealFileBehindWithTheSameBytes(@TempDir Path folder) {
    Path file = folder.resolve("attic.ledger");
    LedgerBinding binding = new LedgerBinding("attic", RigKind.VIRTUAL);
    VirtualLedger ledger = new VirtualLedger(5, SqliteStore.open(file, binding, 0, Instant.EPOCH));
    for (int number = 2; number <= 20; number++) {
      append(ledger, number);
      ledger.advance(number * SCAN_NS);
    }

    ledger.close();

    try (SqliteArchive archive = SqliteArchive.open(file)) {
      assertThat(archive.newest().number()).isEqualTo(20);
      assertThat(Proof.of(archive, List.of()).words()).startsWith("whole: 20 events");
    }
  }

  private static Bytes bytes(int events, long seed) {
    VirtualLedger ledger = new VirtualLedger(seed);
    for (int number = 1; number <= events; number++) {
      append(ledger, number);
      ledger.advance(number * SCAN_NS);
    }
    ledger.close();
    return ledger.canonicalBytes();
  }

  private static List<Long> durableTimes(long seed) {
    VirtualLedger ledger = new VirtualLedger(seed);
    List<Long> times = new ArrayList<>();
    for (int number = 1; number <= 10; number++) {
      append(ledger, number);
      times.add(durableAtNs(ledger, number));
    }
    return times;
  }

  /** When the event becomes durable, in steps of a tenth of a millisecond from now at zero. */
  private static long durableAtNs(VirtualLedger ledger, long number) {
    long nowNs = 0;
    ledger.advance(nowNs);
    while (ledger.state().durableTo() < number && nowNs < 60_000 * MS) {
      nowNs += MS / 10;
      ledger.advance(nowNs);
    }
    return nowNs;
  }
}
