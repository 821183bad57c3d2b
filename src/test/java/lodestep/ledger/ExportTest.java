package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.SortedSet;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.StoredEvent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Goal: an export is read back as it was written, and nothing done to it goes unseen. */
class ExportTest {

  private static final List<StoredEvent> WHOLE =
      SampleEvents.chained(ChainEnd.EMPTY, SampleEvents.twoMagnets());
  private static final long MAGNET = 3;

  private static MemoryStore store() {
    MemoryStore store = new MemoryStore();
    store.commit(WHOLE);
    return store;
  }

  private static ExportHead head(long magnet, boolean unbroken) {
    return new ExportHead(
        "attic",
        "virtual",
        WHOLE.get(0).hash(),
        WHOLE.get(WHOLE.size() - 1).end(),
        magnet,
        magnet == 0 ? "" : "Wren 1",
        unbroken,
        Instant.parse("2026-06-01T02:00:00Z"),
        "1.0");
  }

  private static List<String> lines(ExportHead head, List<StoredEvent> events) {
    StringBuilder out = new StringBuilder();
    ExportWriting writing = new ExportWriting(head, bytes -> out.append(bytes.utf8()));
    long last = 0;
    for (StoredEvent event : events) {
      if (event.number() != last + 1) {
        writing.before(WHOLE.get((int) event.number() - 2).end());
      }
      writing.accept(event);
      last = event.number();
    }
    writing.end();
    return out.toString().lines().toList();
  }

  private static List<StoredEvent> part(boolean unbroken) {
    SortedSet<Long> numbers = MagnetPart.numbers(store(), MAGNET, unbroken);
    return WHOLE.stream().filter(event -> numbers.contains(event.number())).toList();
  }

  private static List<StoredEvent> read(List<String> lines) {
    List<StoredEvent> events = new ArrayList<>();
    ExportReading reading = new ExportReading((head, event) -> events.add(event));
    lines.forEach(line -> reading.accept(Bytes.ofUtf8(line)));
    reading.finished();
    return events;
  }

  private static void assertRefused(List<String> lines, String what) {
    assertThatIllegalArgumentException().as(what).isThrownBy(() -> read(lines));
  }

  @Test
  void readsBackAWholeLedger() {
    assertThat(read(lines(head(0, true), WHOLE))).isEqualTo(WHOLE);
  }

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void readsBackOneMagnetWithAllThatItRefersTo(boolean unbroken) {
    List<StoredEvent> part = part(unbroken);

    assertThat(read(lines(head(MAGNET, unbroken), part))).isEqualTo(part);
    assertThat(part.get(0).number()).isEqualTo(1);
    // Events 19 and 20 are of the other magnet, and 4 names it between this one's.
    assertThat(part.stream().map(StoredEvent::number))
        .contains(1L, 2L, 3L, 11L, 18L)
        .doesNotContain(19L, 20L);
    assertThat(part.stream().anyMatch(event -> event.number() == 4)).isEqualTo(unbroken);
  }

  @Test
  void seesEveryLetterThatIsChanged() {
    for (List<String> lines :
        List.of(lines(head(0, true), WHOLE), lines(head(MAGNET, false), part(false)))) {
      for (int at = 0; at < lines.size(); at++) {
        String line = lines.get(at);
        for (int letter = 0; letter < line.length(); letter += 3) {
          List<String> changed = new ArrayList<>(lines);
          char other = line.charAt(letter) == '7' ? '8' : '7';
          changed.set(at, line.substring(0, letter) + other + line.substring(letter + 1));

          assertRefused(changed, "line " + (at + 1) + ", letter " + letter);
        }
      }
    }
  }

  @Test
  void seesEveryLineThatIsGoneDoubledMovedOrCutOff() {
    for (List<String> lines :
        List.of(lines(head(0, true), WHOLE), lines(head(MAGNET, false), part(false)))) {
      for (int at = 0; at < lines.size(); at++) {
        List<String> gone = new ArrayList<>(lines);
        gone.remove(at);
        assertRefused(gone, "without line " + (at + 1));
        List<String> doubled = new ArrayList<>(lines);
        doubled.add(at, lines.get(at));
        assertRefused(doubled, "line " + (at + 1) + " twice");
        assertRefused(lines.subList(0, at), "cut after line " + at);
        List<String> swapped = new ArrayList<>(lines);
        Collections.swap(swapped, at, (at + 1) % lines.size());
        assertRefused(swapped, "lines changed places at " + (at + 1));
      }
    }
  }

  /** What cannot be proven is said: a part made up from nothing agrees with itself. */
  @Test
  void saysThatAPartIsNotProvenByItself() {
    List<StoredEvent> other =
        SampleEvents.chained(
            new ChainEnd(16, WHOLE.get(5).hash()),
            List.of(SampleEvents.reading(MAGNET, "charged", 99)));
    StringBuilder out = new StringBuilder();
    ExportWriting writing =
        new ExportWriting(head(MAGNET, false), bytes -> out.append(bytes.utf8()));
    writing.accept(WHOLE.get(0));
    writing.before(new ChainEnd(16, WHOLE.get(5).hash()));
    writing.accept(other.get(0));
    writing.end();

    List<StoredEvent> events = read(out.toString().lines().toList());

    assertThat(events).hasSize(2);
    Proof against = Proof.fromStart(List.of(events.get(1).end()));
    WHOLE.forEach(against);
    assertThat(against.result().words()).startsWith("not whole: event 17: ");
    assertThat(head(MAGNET, false).proves())
        .contains("cannot be told", "proven by the ledger", "noted elsewhere");
  }

  @Test
  void writesNoEventThatIsNotWhole() {
    StoredEvent event = WHOLE.get(4);
    StoredEvent spoilt = new StoredEvent(event.index(), WHOLE.get(5).payload(), event.hash());
    ExportWriting writing = new ExportWriting(head(MAGNET, false), bytes -> {});
    writing.before(WHOLE.get(3).end());

    assertThatIllegalArgumentException()
        .isThrownBy(() -> writing.accept(spoilt))
        .withMessageStartingWith("event 5: ");
  }

  @Test
  void knowsNoMagnetThatIsNone() {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> MagnetPart.numbers(store(), 5, false))
        .withMessage("there is no magnet of number 5");
  }
}
