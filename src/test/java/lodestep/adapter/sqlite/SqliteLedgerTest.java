package lodestep.adapter.sqlite;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicInteger;
import lodestep.contract.LedgerContract;
import lodestep.contract.StoreBehind;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.SampleEvents;
import lodestep.port.ChainEnd;
import lodestep.port.EventStore;
import lodestep.port.Ledger;
import lodestep.port.StoredEvent;
import org.junit.jupiter.api.Test;

class SqliteLedgerTest extends LedgerContract {

  /** Only a broken test waits this long. */
  private static final long WAIT_S = 60;

  @Override
  protected Ledger open(EventStore store) {
    return new SqliteLedger(store);
  }

  @Override
  protected void settle(Ledger ledger, long number) {
    ((SqliteLedger) ledger).awaitDurable(number, WAIT_S);
  }

  @Test
  void commitsAllThatWaitedForTheDiskTogether() {
    GatedStore store = new GatedStore();
    SqliteLedger ledger = new SqliteLedger(store);
    append(ledger, 1);
    store.awaitCommit();
    for (long number = 2; number <= 20; number++) {
      append(ledger, number);
    }

    store.gate.countDown();
    ledger.close();

    assertThat(store.newest().number()).isEqualTo(20);
    assertThat(store.commits).hasValue(2);
  }

  @Test
  void goesOnTakingEventsWhileTheDiskStandsStill() {
    GatedStore store = new GatedStore();
    SqliteLedger ledger = new SqliteLedger(store);
    append(ledger, 1);
    store.awaitCommit();

    // This would hang if appending waited for the commit under way.
    append(ledger, 2);

    assertThat(ledger.state().durableTo()).isZero();
    assertThat(ledger.nextNumber()).isEqualTo(3);
    store.gate.countDown();
    ledger.close();
  }

  @Test
  void failsWhenMoreWaitsThanItMayHoldAndKeepsWhatItTook() {
    GatedStore store = new GatedStore();
    SqliteLedger ledger = new SqliteLedger(store);
    append(ledger, 1);
    store.awaitCommit();
    for (int i = 0; i < 5_000; i++) {
      ledger.append(SampleEvents.draft(SampleEvents.reading(3, "final", i), i));
    }

    assertThat(ledger.state().fault()).hasValueSatisfying(why -> assertThat(why).contains("disk"));
    store.gate.countDown();
    ledger.close();

    // One was under way and a thousand waited; the rest was refused by the fault.
    assertThat(store.newest().number()).isEqualTo(1_001);
    assertThat(ledger.state().durableTo()).isEqualTo(1_001);
    assertThat(ledger.state().fault()).isPresent();
  }

  @Test
  void closesInGoodOrderOnAThreadThatIsInterrupted() {
    MemoryStore store = new MemoryStore();
    SqliteLedger ledger = new SqliteLedger(store);
    append(ledger, 1);

    Thread.currentThread().interrupt();
    ledger.close();

    assertThat(Thread.interrupted()).isTrue();
    assertThat(store.newest().number()).isEqualTo(1);
    assertThat(ledger.state().fault()).isEmpty();
  }

  @Test
  void saysSoWhenTheProgramItselfIsWrong() {
    MemoryStore store = new MemoryStore();
    SqliteLedger ledger = new SqliteLedger(store);

    ledger.append(SampleEvents.draft(SampleEvents.reading(3, "half \ud800", 5), 1));
    settle(ledger, 1);

    assertThat(ledger.state().fault())
        .hasValueSatisfying(
            why -> assertThat(why).contains("error in itself").contains("reading-taken"));
    assertThat(store.newest()).isEqualTo(ChainEnd.EMPTY);
    ledger.close();
  }

  /** A store whose first commit waits until the gate opens. */
  private static final class GatedStore extends StoreBehind {

    private final CountDownLatch begun = new CountDownLatch(1);
    private final CountDownLatch gate = new CountDownLatch(1);
    private final AtomicInteger commits = new AtomicInteger();

    GatedStore() {
      super(new MemoryStore());
    }

    void awaitCommit() {
      await(begun);
    }

    private static void await(CountDownLatch latch) {
      try {
        latch.await();
      } catch (InterruptedException unexpected) {
        throw new IllegalStateException(unexpected);
      }
    }

    @Override
    public void commit(List<StoredEvent> events) {
      begun.countDown();
      await(gate);
      super.commit(events);
      commits.incrementAndGet();
    }
  }
}
