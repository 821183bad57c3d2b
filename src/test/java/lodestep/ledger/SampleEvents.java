package lodestep.ledger;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import lodestep.port.ActEvent.PulseEnded;
import lodestep.port.ActEvent.PulseIntended;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.BatchStarted;
import lodestep.port.LedgerEvent.LedgerCreated;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.MagnetStarted;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.Tripped;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.StoredEvent;

/** Events of an invented bench for tests. */
public final class SampleEvents {

  private static final Instant WALL = Instant.parse("2026-03-04T05:06:07.089Z");

  private SampleEvents() {}

  /** A draft of this event, a scan after scan {@code n}. */
  public static EventDraft draft(LedgerEvent event, long n) {
    return new EventDraft(event, n * 5_000_000L, WALL.plusMillis(5 * n));
  }

  /** These events as they are stored after the end of a chain. */
  public static List<StoredEvent> chained(ChainEnd end, List<LedgerEvent> events) {
    List<StoredEvent> stored = new ArrayList<>();
    ChainEnd last = end;
    for (LedgerEvent event : events) {
      StoredEvent next = Chain.link(last, draft(event, last.number() + 1));
      stored.add(next);
      last = next.end();
    }
    return stored;
  }

  /** The entries of these stored events. */
  public static List<LedgerEntry> entries(List<StoredEvent> stored) {
    return stored.stream().map(EventCodec::decode).toList();
  }

  /**
   * Magnet 3 "Wren 1" is read, charged, knocked down through a trip and accepted on the second
   * attempt; magnet 4 "Wren 2" is started and left with an open pulse.
   */
  public static List<LedgerEvent> twoMagnets() {
    return List.of(
        new LedgerCreated("attic", "virtual", 1), // 1
        new BatchStarted("birds", "ab".repeat(32), "name,alloy\nWren,alnico 4\n", 2), // 2
        named("Wren 1", 1), // 3
        named("Wren 2", 2), // 4
        new MagnetStarted(3, 1, "tall nest", "secant"), // 5
        reading(3, "as found", 120), // 6
        pulse(3, 1, 1, "charge"), // 7
        ended(7, 3, "delivered"), // 8
        reading(3, "charged", 71_300), // 9
        pulse(3, 1, 2, "knock down"), // 10
        new Tripped(12, "the lid was opened", "lid_a open", 3), // 11
        ended(10, 3, "unverified"), // 12
        new VerdictGiven(
            3, 1, "tripped", 0, 0, 41_000, 600, 0, 1, 1, 0, "the lid was opened"), // 13
        new MagnetStarted(3, 2, "tall nest", "secant"), // 14
        pulse(3, 2, 1, "charge"), // 15
        ended(15, 3, "delivered"), // 16
        reading(3, "final", 41_200), // 17
        new VerdictGiven(3, 2, "accepted", 41_200, 95_000, 41_000, 600, 190_000, 1, 0, 0, ""), // 18
        new MagnetStarted(4, 1, "tall nest", "secant"), // 19
        pulse(4, 1, 1, "charge")); // 20
  }

  private static MagnetNamed named(String name, long ordinal) {
    return new MagnetNamed(
        2,
        name,
        1,
        ordinal,
        "birds",
        "",
        "alnico 4",
        "rod",
        List.of(4_500L, 15_500L),
        "tall nest",
        "north",
        "level",
        41_000,
        0,
        0,
        600,
        0,
        0);
  }

  /** A settled reading. */
  public static ReadingTaken reading(long magnet, String stage, long fieldMicroTesla) {
    return new ReadingTaken(
        magnet, stage, fieldMicroTesla, 95_000, 40, 2_150, "tall nest", 1_800, 0, 0);
  }

  /** An intent of a pulse. */
  public static PulseIntended pulse(long magnet, long attempt, long ordinal, String purpose) {
    return new PulseIntended(
        magnet,
        attempt,
        ordinal,
        purpose,
        true,
        true,
        44_000,
        44_250,
        210_000,
        30_500,
        "tall coil");
  }

  /** The end of a pulse. */
  public static PulseEnded ended(long intent, long magnet, String outcome) {
    return new PulseEnded(
        intent, magnet, outcome, 77, 4_711, 43_990, 9_100, 31_000, 12, 8_700, 2_480, "");
  }
}
