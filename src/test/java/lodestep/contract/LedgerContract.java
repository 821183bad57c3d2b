package lodestep.contract;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.Proof;
import lodestep.ledger.SampleEvents;
import lodestep.port.ChainEnd;
import lodestep.port.EventStore;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;
import org.junit.jupiter.api.Test;

/** What every ledger does, in real and in virtual time alike. */
public abstract class LedgerContract {

  /** Opens a ledger on this store. */
  protected abstract Ledger open(EventStore store);

  /** Lets time pass until this event is durable or the ledger has failed. */
  protected abstract void settle(Ledger ledger, long number);

  @Test
  void numbersEventsFromOneWithoutAGap() {
    Ledger ledger = open(new MemoryStore());

    for (long number = 1; number <= 5; number++) {
      assertThat(ledger.nextNumber()).isEqualTo(number);
      append(ledger, number);
    }

    ledger.close();
  }

  @Test
  void goesOnWhereTheStoreEnds() {
    MemoryStore store = storeWith(8);
    Ledger ledger = open(store);

    assertThat(ledger.nextNumber()).isEqualTo(9);
    assertThat(ledger.state().durableTo()).isEqualTo(8);
    append(ledger, 9);
    settle(ledger, 9);

    assertThat(ledger.state().durableTo()).isEqualTo(9);
    assertThat(Proof.of(store, List.of())).isInstanceOf(Proof.Result.Whole.class);
    ledger.close();
  }

  @Test
  void neverCallsAnEventDurableThatIsNotStored() {
    MemoryStore store = new MemoryStore();
    Ledger ledger = open(store);

    for (long number = 1; number <= 20; number++) {
      append(ledger, number);
      long durable = ledger.state().durableTo();
      assertThat(durable).isLessThanOrEqualTo(number);
      if (number % 5 == 0) {
        settle(ledger, number);
        assertThat(ledger.state().durableTo()).isEqualTo(number);
        assertThat(store.newest().number()).isEqualTo(number);
      }
    }

    ledger.close();
  }

  @Test
  void writesEverythingBeforeItCloses() {
    MemoryStore store = new MemoryStore();
    Ledger ledger = open(store);
    for (long number = 1; number <= 20; number++) {
      append(ledger, number);
    }

    ledger.close();

    assertThat(ledger.state().durableTo()).isEqualTo(20);
    assertThat(ledger.state().fault()).isEmpty();
    assertThat(events(store)).isEqualTo(SampleEvents.twoMagnets());
  }

  /** After a power cut all of them are there or none. */
  @Test
  void putsWhatBelongsTogetherIntoOneCommit() {
    List<Integer> commits = new ArrayList<>();
    EventStore store =
        new StoreBehind(new MemoryStore()) {
          @Override
          public void commit(List<StoredEvent> events) {
            commits.add(events.size());
            super.commit(events);
          }
        };
    Ledger ledger = open(store);
    append(ledger, 1);
    settle(ledger, 1);

    ledger.append(
        IntStream.rangeClosed(2, 9)
            .mapToObj(at -> SampleEvents.draft(SampleEvents.twoMagnets().get(at - 1), at))
            .toList());
    assertThat(ledger.nextNumber()).isEqualTo(10);
    settle(ledger, 9);

    assertThat(commits).containsExactly(1, 8);
    ledger.close();
    assertThat(Proof.of(store, List.of())).isInstanceOf(Proof.Result.Whole.class);
  }

  @Test
  void keepsWhatTheEventSaidAndWhen() {
    MemoryStore store = new MemoryStore();
    Ledger ledger = open(store);
    append(ledger, 1);
    ledger.close();

    List<LedgerEntry> entries = new ArrayList<>();
    store.forEach(1, 1, stored -> entries.add(EventCodec.decode(stored)));

    assertThat(entries)
        .singleElement()
        .satisfies(
            entry -> {
              assertThat(entry.event()).isEqualTo(SampleEvents.twoMagnets().get(0));
              assertThat(entry.atNs()).isEqualTo(SampleEvents.draft(entry.event(), 1).atNs());
              assertThat(entry.wall()).isEqualTo(SampleEvents.draft(entry.event(), 1).wall());
            });
  }

  @Test
  void failsForGoodWhenTheStoreFailsOnce() {
    FailingStore store = new FailingStore(storeWith(3), 2);
    Ledger ledger = open(store);
    append(ledger, 4);
    settle(ledger, 4);
    assertThat(ledger.state().fault()).isEmpty();

    append(ledger, 5);
    settle(ledger, 5);
    append(ledger, 6);
    ledger.close();

    assertThat(ledger.state().fault()).contains(FailingStore.SENTENCE);
    assertThat(ledger.state().durableTo()).isEqualTo(4);
    assertThat(store.newest().number()).isEqualTo(4);
    assertThat(store.attempts).isEqualTo(2);
  }

  @Test
  void closesTwiceAndTakesNothingAfterwards() {
    MemoryStore store = new MemoryStore();
    Ledger ledger = open(store);
    append(ledger, 1);
    ledger.close();

    append(ledger, 2);
    ledger.close();

    assertThat(store.newest().number()).isEqualTo(1);
    assertThat(ledger.state().durableTo()).isEqualTo(1);
  }

  /** Appends the event with this number of the sample. */
  protected static void append(Ledger ledger, long number) {
    ledger.append(SampleEvents.draft(SampleEvents.twoMagnets().get((int) number - 1), number));
  }

  /** A store with the first events of the sample. */
  protected static MemoryStore storeWith(int count) {
    MemoryStore store = new MemoryStore();
    store.commit(SampleEvents.chained(ChainEnd.EMPTY, SampleEvents.twoMagnets().subList(0, count)));
    return store;
  }

  /** All events of the store. */
  protected static List<LedgerEvent> events(EventStore store) {
    List<LedgerEvent> events = new ArrayList<>();
    Consumer<StoredEvent> each = stored -> events.add(EventCodec.decode(stored).event());
    store.forEach(1, Long.MAX_VALUE, each);
    return events;
  }

  /** A store whose n-th commit fails, and which would work again afterwards. */
  protected static final class FailingStore extends StoreBehind {

    /** What it says. */
    static final String SENTENCE = "the ledger of this test cannot be written";

    private final int failing;
    private int attempts;

    FailingStore(EventStore behind, int failing) {
      super(behind);
      this.failing = failing;
    }

    @Override
    public void commit(List<StoredEvent> events) {
      attempts++;
      if (attempts == failing) {
        throw new LedgerException(SENTENCE);
      }
      super.commit(events);
    }
  }
}
