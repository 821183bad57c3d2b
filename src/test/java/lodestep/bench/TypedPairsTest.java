package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.SampleEvents;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.ActByHand;
import lodestep.port.LedgerEvent.MagnetStarted;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.ReadingTyped;
import org.junit.jupiter.api.Test;

/** Goal: what a person typed is paired with the rig's reading of the same state, or not at all. */
class TypedPairsTest {

  /** The sample's third event names "Wren 1". */
  private static final long WREN = 3;

  private final MemoryStore store = new MemoryStore();

  private TypedPairs.Kind paired(LedgerEvent... events) {
    List<LedgerEvent> all = new ArrayList<>(SampleEvents.twoMagnets().subList(0, 3));
    all.addAll(Arrays.asList(events));
    store.commit(SampleEvents.chained(ChainEnd.EMPTY, all));
    return TypedPairs.of(store, "Shelf Gauge").kinds().get(0);
  }

  private static ReadingTaken read(long gauss) {
    return SampleEvents.reading(WREN, "charged", gauss * 100);
  }

  private static ReadingTyped typed(long gauss) {
    return new ReadingTyped(WREN, gauss * 100, "", "shelf gauge", gauss + " G");
  }

  private static ActByHand act() {
    return new ActByHand(WREN, 1, 1, "knock down", false, "once", 0, 0, 0);
  }

  @Test
  void readingTypedAfterTheLastReadingIsOfThatState() {
    TypedPairs.Kind kind = paired(act(), read(500), act(), read(410), typed(450));

    assertThat(kind.of().nest()).isEqualTo("tall nest");
    assertThat(kind.pairs().pairs())
        .singleElement()
        .satisfies(
            pair -> {
              assertThat(pair.nest().microTesla()).isEqualTo(41_000);
              assertThat(pair.hand().microTesla()).isEqualTo(45_000);
            });
    assertThat(kind.leftOut()).isEmpty();
  }

  @Test
  void readingTypedBeforeTheFirstReadingIsOfTheStateFound() {
    TypedPairs.Kind kind =
        paired(typed(450), new MagnetStarted(WREN, 1, "tall nest", "by hand"), read(410), act());

    assertThat(kind.pairs().pairs())
        .singleElement()
        .satisfies(p -> assertThat(p.nest().microTesla()).isEqualTo(41_000));
  }

  /** An act goes on record with the reading it led to: it may have been done already. */
  @Test
  void readingTypedBeforeAnActIsNotGuessedAt() {
    TypedPairs.Kind kind = paired(act(), read(500), typed(450), act(), read(410));

    assertThat(kind.pairs().pairs()).isEmpty();
    assertThat(kind.leftOut())
        .singleElement()
        .asString()
        .contains("Wren 1, 450 G (entry 6)", "read before or after");
  }

  @Test
  void laterWorkOnTheMagnetDoesNotTouchWhatWasTypedBefore() {
    TypedPairs.Kind kind =
        paired(
            act(),
            read(410),
            typed(450),
            new MagnetStarted(WREN, 2, "tall nest", "by hand"),
            act(),
            read(380),
            typed(418));

    assertThat(kind.pairs().magnets()).hasSize(2);
    assertThat(kind.pairs().pairs())
        .extracting(pair -> pair.nest().microTesla())
        .containsExactly(41_000L, 38_000L);
  }

  @Test
  void weakReadingAndOnePoleForTheOtherTellNoRatio() {
    TypedPairs.Kind weak = paired(read(12), typed(13));
    assertThat(weak.leftOut()).singleElement().asString().contains("too weak");
  }

  @Test
  void otherPoleIsLeftOut() {
    TypedPairs.Kind other =
        paired(read(410), new ReadingTyped(WREN, -45_000, "south", "shelf gauge", "-450 G"));
    assertThat(other.leftOut()).singleElement().asString().contains("its pole is not the one");
  }

  @Test
  void otherGaugesReadingsAreOthers() {
    paired(read(410), typed(450), new ReadingTyped(WREN, 40_000, "", "field meter", "400 G"));

    assertThat(TypedPairs.of(store, "field meter").kinds().get(0).pairs().pairs())
        .singleElement()
        .satisfies(pair -> assertThat(pair.hand().microTesla()).isEqualTo(40_000));
    assertThat(TypedPairs.gauges(store)).containsExactly("shelf gauge", "field meter");
  }
}
