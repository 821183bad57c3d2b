package lodestep.scan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Instant;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.port.StockEvent.OrderHandedOver;
import lodestep.sim.VirtualLedger;
import org.junit.jupiter.api.Test;

/** Goal: what a person puts on record is numbered by the loop, and told as safe when it is. */
class NotesTest {

  private static final LedgerEvent LEFT = new OrderHandedOver("Hollis 7", "fetched");
  private static final long SECOND_NS = 1_000_000_000L;

  private final Notes notes = new Notes();
  private final VirtualLedger ledger = new VirtualLedger(1);

  private void scan(long nowNs) {
    ledger.advance(nowNs);
    notes.append(ledger, nowNs, Instant.EPOCH);
  }

  private Note offered() {
    return notes.offer(List.of(LEFT)).orElseThrow();
  }

  @Test
  void tellsTheNumberOnceItIsDurableAndNotBefore() {
    Note first = offered();
    Note second = offered();
    scan(0);
    assertThatThrownBy(() -> first.await(0)).isInstanceOf(LedgerException.class);

    List.of(1, 2, 3).forEach(later -> scan(later * SECOND_NS));

    assertThat(first.await(0)).isEqualTo(1);
    assertThat(second.await(0)).isEqualTo(2);
    assertThat(ledger.archive().newest().number()).isEqualTo(2);
  }

  @Test
  void saysWhyWhenTheRecordCannotBeWritten() {
    ledger.fillDisk();
    Note note = offered();
    List.of(0, 1, 2, 3).forEach(second -> scan(second * SECOND_NS));

    assertThatThrownBy(() -> note.await(0))
        .isInstanceOf(LedgerException.class)
        .hasMessageContaining("the disk is full");
    assertThat(ledger.archive().newest().number()).isZero();
  }

  @Test
  void takesWhatBelongsTogetherAtOnceAndTellsTheLast() {
    Note three = notes.offer(List.of(LEFT, LEFT, LEFT)).orElseThrow();
    Note one = offered();
    List.of(0, 1, 2, 3).forEach(second -> scan(second * SECOND_NS));

    assertThat(three.await(0)).isEqualTo(3);
    assertThat(one.await(0)).isEqualTo(4);
  }

  /** The ledger gives its disk up where too much waits, and the rig's own events come first. */
  @Test
  void takesNoMoreEntriesThanTheDiskMayOweUntilTheyAreSafe() {
    List<LedgerEvent> most = Collections.nCopies(Notes.ENTRIES_MAX, LEFT);
    assertThat(notes.offer(most)).isPresent();
    assertThat(notes.offer(List.of(LEFT))).isEmpty();
    scan(0);
    assertThat(notes.offer(List.of(LEFT))).as("on its way to the disk").isEmpty();

    List.of(1, 2, 3).forEach(second -> scan(second * SECOND_NS));

    assertThat(notes.offer(List.of(LEFT))).isPresent();
  }

  @Test
  void takesNoMoreThanThereIsRoomForAndAllOfThemInOneScan() {
    for (int waiting = 0; waiting < Notes.ROOM; waiting++) {
      offered();
    }
    assertThat(notes.offer(List.of(LEFT))).isEqualTo(Optional.empty());

    scan(0);

    assertThat(ledger.nextNumber()).isEqualTo(Notes.ROOM + 1);
    assertThat(notes.offer(List.of(LEFT))).isPresent();
  }
}
