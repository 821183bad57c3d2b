package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.TreeSet;
import java.util.stream.Stream;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.HeadSeen;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.ProgramStopped;
import lodestep.port.LedgerEvent.Tripped;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class EventCodecTest {

  private static final Instant WALL = Instant.ofEpochMilli(1_772_600_767_089L);

  /**
   * One line for each kind, as it stands in records. A line is never changed: a record of years ago
   * must read the same. A new kind adds a line.
   */
  private static List<String> pinned() throws IOException {
    try (var stream = EventCodecTest.class.getResourceAsStream("event-bytes.txt")) {
      if (stream == null) {
        throw new IOException("event-bytes.txt is missing");
      }
      return new String(stream.readAllBytes(), StandardCharsets.UTF_8).lines().toList();
    }
  }

  @ParameterizedTest
  @MethodSource("pinned")
  void readsAndWritesThePinnedBytes(String line) {
    LedgerEntry entry = EventCodec.decode(Bytes.ofUtf8(line));

    Bytes again =
        EventCodec.encode(
            entry.number(), new EventDraft(entry.event(), entry.atNs(), entry.wall()));

    assertThat(again.utf8()).isEqualTo(line);
  }

  /** A kind that is added is a new form: raise {@link LedgerBinding#SCHEMA} with this list. */
  @Test
  void knowsTheKindsOfItsFormAndNoOthers() {
    assertThat(LedgerBinding.SCHEMA).isEqualTo(8);
    assertThat(String.join(" ", new TreeSet<>(EventKind.all().keySet())))
        .isEqualTo(
            "act-by-hand bank-proven batch-continued batch-ended batch-started build-described"
                + " build-noted calibration-set certificate-issued coil-seen-to curve-point"
                + " gap-curve-measured"
                + " gauge-judged hand-gauge-related head-seen keeping-asked"
                + " ledger-created ledger-set-aside lot-received magnet-corrected"
                + " magnet-named magnet-noted magnet-reread magnet-scrapped"
                + " magnet-started magnet-wound magnets-exchanged order-handed-over order-taken"
                + " person-asked pickup-built point-read points-judged points-started"
                + " pole-top-read program-started program-stopped pulse-ended"
                + " pulse-intended reading-taken reading-typed reference-read"
                + " return-judged rig-described stroke-ended stroke-intended study-read"
                + " study-started switched-pulse-intended target-told trip-reset tripped"
                + " verdict-given zero-refused zero-taken");
  }

  @Test
  void pinsEveryKind() throws IOException {
    List<String> words =
        pinned().stream()
            .map(line -> EventCodec.index(EventCodec.decode(Bytes.ofUtf8(line))).kind())
            .toList();

    assertThat(words).doesNotHaveDuplicates();
    assertThat(words).containsExactlyInAnyOrderElementsOf(EventKind.all().keySet());
    assertThat(words).hasSize((int) EventKind.kinds(LedgerEvent.class).count());
  }

  @Test
  void pinsWhichFieldIsWhich() {
    // Every field differs, so that two of one type changing places would show.
    HeadSeen event = new HeadSeen("H-0040", 1, "1.2", 311, true);

    Bytes bytes = EventCodec.encode(12, new EventDraft(event, -5, WALL));

    assertThat(bytes.utf8())
        .isEqualTo(
            "{\"atNs\":\"-5\",\"bootId\":311,\"firmwareVersion\":\"1.2\",\"kind\":\"head-seen\","
                + "\"number\":12,\"protocolVersion\":1,\"serialNumber\":\"H-0040\","
                + "\"wallEpochMs\":1772600767089,"
                + "\"watchdogProven\":true}");
    assertThat(EventCodec.decode(bytes)).isEqualTo(new LedgerEntry(12, event, -5, WALL));
  }

  @Test
  void keepsMonotonicTimeBeyondTheRangeOfNumbers() {
    for (long atNs : new long[] {Long.MIN_VALUE, -1, 0, 1L << 53, Long.MAX_VALUE}) {
      Bytes bytes = EventCodec.encode(1, new EventDraft(new ProgramStopped(""), atNs, WALL));

      assertThat(EventCodec.decode(bytes).atNs()).isEqualTo(atNs);
    }
  }

  @Test
  void keepsWallTimeToAMillisecond() {
    Instant wall = Instant.parse("2026-03-04T05:06:07.089999999Z");

    Bytes bytes = EventCodec.encode(1, new EventDraft(new ProgramStopped(""), 0, wall));

    assertThat(EventCodec.decode(bytes).wall()).isEqualTo("2026-03-04T05:06:07.089Z");
  }

  @Test
  void saysWhichEventCannotBeRecorded() {
    assertThatIllegalArgumentException()
        .isThrownBy(
            () -> EventCodec.encode(9, new EventDraft(new Tripped(1L << 53, "a", "b", 0), 0, WALL)))
        .withMessageContaining("event 9 (tripped)")
        .withMessageContaining("too large");
    assertThatIllegalArgumentException()
        .isThrownBy(
            () -> EventCodec.encode(9, new EventDraft(new ProgramStopped("\ud800"), 0, WALL)))
        .withMessageContaining("event 9 (program-stopped)");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "{\"atNs\":\"0\",\"kind\":\"program-stopped\",\"number\":1,\"wallEpochMs\":0}",
        "{\"atNs\":\"0\",\"kind\":\"program-stopped\",\"number\":1,\"wallEpochMs\":0,\"why\":1}",
        "{\"atNs\":\"0\",\"kind\":\"program-stopped\",\"more\":1,\"number\":1,\"wallEpochMs\":0,"
            + "\"why\":\"\"}",
        "{\"atNs\":\"00\",\"kind\":\"program-stopped\",\"number\":1,\"wallEpochMs\":0,"
            + "\"why\":\"\"}",
        "{\"atNs\":0,\"kind\":\"program-stopped\",\"number\":1,\"wallEpochMs\":0,\"why\":\"\"}",
        "{\"atNs\":\"0\",\"kind\":\"program-dreamt\",\"number\":1,\"wallEpochMs\":0,\"why\":\"\"}",
        "{\"kind\":\"program-stopped\",\"number\":1,\"wallEpochMs\":0,\"why\":\"\"}"
      })
  void refusesAnythingThatItWouldNotWrite(String text) {
    assertThatIllegalArgumentException().isThrownBy(() -> EventCodec.decode(Bytes.ofUtf8(text)));
  }

  @Test
  void indexesAMagnetByTheNumberOfItsName() {
    List<LedgerEntry> entries =
        SampleEvents.entries(SampleEvents.chained(ChainEnd.EMPTY, SampleEvents.twoMagnets()));

    List<Long> magnets = entries.stream().map(e -> EventCodec.index(e).magnet()).toList();

    assertThat(magnets)
        .isEqualTo(
            Stream.of(0, 0, 3, 4, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 4, 4)
                .map(Integer::longValue)
                .toList());
    assertThat(entries.get(2).event()).isInstanceOf(MagnetNamed.class);
  }

  @Test
  void reservesTheNamesOfTheCommonMembers() {
    for (Class<?> type : EventKind.kinds(LedgerEvent.class).toList()) {
      assertThat(Stream.of(type.getRecordComponents()).map(component -> component.getName()))
          .as(type.getSimpleName())
          .doesNotContainAnyElementsOf(EventKind.RESERVED);
    }
  }
}
