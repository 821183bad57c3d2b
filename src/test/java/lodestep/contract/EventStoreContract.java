package lodestep.contract;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import lodestep.ledger.Proof;
import lodestep.ledger.SampleEvents;
import lodestep.port.ChainEnd;
import lodestep.port.EventStore;
import lodestep.port.LedgerEvent;
import lodestep.port.StoredEvent;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What every store of events does, on disk and in memory alike. */
public abstract class EventStoreContract {

  private static final List<LedgerEvent> AFTER_CREATION =
      SampleEvents.twoMagnets().subList(1, SampleEvents.twoMagnets().size());

  private EventStore store;

  /** A store with a {@code LedgerCreated} as its only event. */
  protected abstract EventStore created();

  @BeforeEach
  void open() {
    store = created();
  }

  @AfterEach
  void close() {
    store.close();
  }

  @Test
  void givesBackWhatWasCommittedByteForByte() {
    List<StoredEvent> events = commitAll();

    List<StoredEvent> found = read(each -> store.forEach(2, Long.MAX_VALUE, each));

    assertThat(found).isEqualTo(events);
    assertThat(store.newest()).isEqualTo(events.get(events.size() - 1).end());
    assertThat(Proof.of(store, List.of())).isInstanceOf(Proof.Result.Whole.class);
  }

  @Test
  void readsARangeWithBothItsEnds() {
    commitAll();

    assertThat(numbers(read(each -> store.forEach(4, 6, each)))).containsExactly(4L, 5L, 6L);
    assertThat(read(each -> store.forEach(6, 4, each))).isEmpty();
    assertThat(numbers(read(each -> store.forEach(-3, 1, each)))).containsExactly(1L);
    assertThat(numbers(read(each -> store.forEach(Long.MIN_VALUE, 2, each))))
        .containsExactly(1L, 2L);
    assertThat(read(each -> store.forEach(21, 30, each))).isEmpty();
  }

  @Test
  void readsTheEventsOfOneMagnet() {
    commitAll();

    assertThat(numbers(read(each -> store.forEachOfMagnet(4, each)))).containsExactly(4L, 19L, 20L);
    assertThat(read(each -> store.forEachOfMagnet(0, each))).isEmpty();
    assertThat(read(each -> store.forEachOfMagnet(99, each))).isEmpty();
  }

  @Test
  void readsTheEventsOfOneKind() {
    commitAll();

    assertThat(numbers(read(each -> store.forEachOfKind("magnet-named", each))))
        .containsExactly(3L, 4L);
    assertThat(read(each -> store.forEachOfKind("no-such-kind", each))).isEmpty();
  }

  @Test
  void takesNothingThatDoesNotFollow() {
    StoredEvent second = chained().get(0);
    StoredEvent third = chained().get(1);
    ChainEnd before = store.newest();

    assertThatIllegalArgumentException().isThrownBy(() -> store.commit(List.of(third)));
    assertThatIllegalArgumentException().isThrownBy(() -> store.commit(List.of(second, second)));
    assertThatIllegalArgumentException()
        .isThrownBy(
            () ->
                store.commit(
                    List.of(new StoredEvent(second.index(), second.payload(), third.hash()))));

    assertThat(store.newest()).isEqualTo(before);
    assertThat(read(each -> store.forEach(1, 9, each))).hasSize(1);
  }

  @Test
  void takesAnEmptyCommitAsNothing() {
    ChainEnd before = store.newest();

    store.commit(List.of());

    assertThat(store.newest()).isEqualTo(before);
  }

  private List<StoredEvent> commitAll() {
    List<StoredEvent> events = chained();
    store.commit(events.subList(0, 7));
    store.commit(events.subList(7, events.size()));
    return events;
  }

  private List<StoredEvent> chained() {
    return SampleEvents.chained(store.newest(), AFTER_CREATION);
  }

  private static List<StoredEvent> read(Consumer<Consumer<StoredEvent>> reading) {
    List<StoredEvent> found = new ArrayList<>();
    reading.accept(found::add);
    return found;
  }

  private static List<Long> numbers(List<StoredEvent> events) {
    return events.stream().map(StoredEvent::number).toList();
  }
}
