package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.EventIndex;
import lodestep.port.Hash;
import lodestep.port.LedgerEvent;
import lodestep.port.StoredEvent;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: whatever is done to a ledger is found, and the right event is named. Method: a whole ledger
 * is spoilt in one way and proved.
 */
class ProofTest {

  private static final List<StoredEvent> WHOLE =
      SampleEvents.chained(ChainEnd.EMPTY, SampleEvents.twoMagnets());
  private static final int EVENTS = 20;

  @Test
  void saysWholeWithCountAndNewestHash() {
    Proof.Result result = prove(WHOLE);

    assertThat(result).isEqualTo(new Proof.Result.Whole(EVENTS, end(EVENTS)));
    assertThat(result.words()).isEqualTo("whole: 20 events, newest hash " + end(EVENTS).hash());
  }

  @Test
  void saysWholeOfAnEmptyLedger() {
    assertThat(prove(List.of())).isEqualTo(new Proof.Result.Whole(0, ChainEnd.EMPTY));
  }

  @Test
  void namesTheEventWhenAnyBitOfAnyPayloadIsFlipped() {
    for (StoredEvent event : WHOLE) {
      for (int bit = 0; bit < event.payload().size() * 8; bit++) {
        assertFlipFound(
            new StoredEvent(event.index(), flipped(event.payload(), bit), event.hash()));
      }
    }
  }

  @Test
  void namesTheEventWhenAnyBitOfAnyHashIsFlipped() {
    for (StoredEvent event : WHOLE) {
      for (int bit = 0; bit < Hash.SIZE_BYTES * 8; bit++) {
        Hash hash = new Hash(flipped(event.hash().bytes(), bit));

        assertFlipFound(new StoredEvent(event.index(), event.payload(), hash));
      }
    }
  }

  @Test
  void namesTheEventInTheMidstOfTheOthers() {
    for (StoredEvent event : WHOLE) {
      StoredEvent spoilt =
          new StoredEvent(event.index(), flipped(event.payload(), 100), event.hash());

      assertBroken(replaced(spoilt), event.number(), "was changed");
    }
  }

  @Property
  void namesTheFirstOfAllThatAreGone(
      @ForAll @IntRange(min = 0, max = EVENTS - 2) int index,
      @ForAll @IntRange(min = 1) int count) {
    List<StoredEvent> gapped = new ArrayList<>(WHOLE);
    // At least the last one stays, since a cut tail is another matter.
    gapped.subList(index, Math.min(EVENTS - 1, index + Math.min(count, EVENTS))).clear();

    assertBroken(gapped, index + 1, "missing");
  }

  @Test
  void namesTheEventThatStandsTwice() {
    for (int i = 0; i < EVENTS; i++) {
      List<StoredEvent> doubled = new ArrayList<>(WHOLE);
      doubled.add(i, WHOLE.get(i));

      assertBroken(doubled, i + 1, "again");
    }
  }

  @Test
  void namesTheFirstOfTwoThatChangedPlaces() {
    for (int i = 0; i + 1 < EVENTS; i++) {
      List<StoredEvent> swapped = new ArrayList<>(WHOLE);
      swapped.set(i, renumbered(WHOLE.get(i + 1), i + 1));
      swapped.set(i + 1, renumbered(WHOLE.get(i), i + 2));

      assertBroken(swapped, i + 1, "was changed");
    }
  }

  @Test
  void namesTheEventPutInBetweenWhenTheRestIsRenumbered() {
    List<StoredEvent> inserted = new ArrayList<>(WHOLE.subList(0, 5));
    inserted.addAll(
        SampleEvents.chained(end(5), List.of(SampleEvents.reading(3, "as found", 150))));
    for (StoredEvent event : WHOLE.subList(5, EVENTS)) {
      inserted.add(renumbered(event, event.number() + 1));
    }

    // The inserted event is chained well; the one after it gives the insertion away.
    assertBroken(inserted, 7, "was changed");
  }

  @Test
  void namesTheNextEventWhenOneWasForgedWithItsHash() {
    List<StoredEvent> forged = new ArrayList<>(WHOLE);
    forged.set(
        8,
        SampleEvents.chained(end(8), List.of(SampleEvents.reading(3, "charged", 99_999))).get(0));

    assertBroken(forged, 10, "this event or the one before was changed");
  }

  @ParameterizedTest
  @ValueSource(strings = {"kind", "magnet", "wall"})
  void namesTheEventWhoseColumnWasEdited(String column) {
    for (StoredEvent event : WHOLE) {
      EventIndex is = event.index();
      EventIndex edited =
          new EventIndex(
              is.number(),
              column.equals("kind") ? "trip-reset" : is.kind(),
              column.equals("magnet") ? is.magnet() + 1 : is.magnet(),
              column.equals("wall") ? is.wallEpochMs() - 1 : is.wallEpochMs());

      assertBroken(
          replaced(new StoredEvent(edited, event.payload(), event.hash())),
          event.number(),
          "beside its bytes (event " + event.number());
    }
  }

  @Test
  void findsACutTailOnlyWithAnAnchor() {
    List<StoredEvent> cut = WHOLE.subList(0, 15);
    ChainEnd anchor = end(18);

    assertThat(prove(cut)).isEqualTo(new Proof.Result.Whole(15, end(15)));
    assertThat(prove(cut, anchor).words()).startsWith("not whole: event 16: it is missing");
    assertThat(prove(WHOLE, anchor)).isEqualTo(new Proof.Result.Whole(EVENTS, end(EVENTS)));
  }

  @Test
  void findsAChainMadeAnewOnlyWithAnAnchor() {
    List<LedgerEvent> events = new ArrayList<>(SampleEvents.twoMagnets());
    events.set(16, SampleEvents.reading(3, "final", 41_001));
    List<StoredEvent> anew = SampleEvents.chained(ChainEnd.EMPTY, events);

    assertThat(prove(anew)).isInstanceOf(Proof.Result.Whole.class);
    assertThat(prove(anew, end(18)).words())
        .isEqualTo("not whole: event 18: its hash is not the one that was noted elsewhere");
  }

  @Test
  void refusesALedgerThatDoesNotBeginWithItsCreation() {
    List<StoredEvent> headless =
        SampleEvents.chained(ChainEnd.EMPTY, SampleEvents.twoMagnets().subList(1, 4));

    assertBroken(headless, 1, "creates");
  }

  @Test
  void provesATailFromWhereItBegins() {
    Proof tail = Proof.after(end(12));
    WHOLE.subList(12, EVENTS).forEach(tail);

    assertThat(tail.result()).isEqualTo(new Proof.Result.Whole(8, end(EVENTS)));
  }

  private static Proof.Result prove(List<StoredEvent> events, ChainEnd... anchors) {
    Proof proof = Proof.fromStart(List.of(anchors));
    events.forEach(proof);
    return proof.result();
  }

  /** Proved from the event before it, which is enough and keeps the many flips quick. */
  private static void assertFlipFound(StoredEvent spoilt) {
    long before = spoilt.number() - 1;
    Proof proof = Proof.after(before == 0 ? ChainEnd.EMPTY : end((int) before));
    proof.accept(spoilt);

    assertThat(proof.result())
        .isInstanceOfSatisfying(
            Proof.Result.Broken.class,
            broken -> {
              assertThat(broken.number()).isEqualTo(spoilt.number());
              assertThat(broken.what()).contains("was changed");
            });
  }

  private static void assertBroken(List<StoredEvent> events, long number, String what) {
    assertThat(prove(events))
        .isInstanceOfSatisfying(
            Proof.Result.Broken.class,
            broken -> {
              assertThat(broken.number()).isEqualTo(number);
              assertThat(broken.what()).contains(what);
            });
  }

  private static List<StoredEvent> replaced(StoredEvent event) {
    List<StoredEvent> events = new ArrayList<>(WHOLE);
    events.set((int) event.number() - 1, event);
    return events;
  }

  private static StoredEvent renumbered(StoredEvent event, long number) {
    EventIndex is = event.index();
    return new StoredEvent(
        new EventIndex(number, is.kind(), is.magnet(), is.wallEpochMs()),
        event.payload(),
        event.hash());
  }

  private static Bytes flipped(Bytes bytes, int bit) {
    byte[] array = bytes.toArray();
    array[bit / 8] ^= (byte) (1 << (bit % 8));
    return Bytes.copyOf(array);
  }

  private static ChainEnd end(int number) {
    return WHOLE.get(number - 1).end();
  }
}
