package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.dial.Verdict;
import lodestep.ledger.EventCodec;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.TripCause;

/** What a host on a board has left in its ledger, for tests. */
final class OnRecord {

  private OnRecord() {}

  static List<LedgerEvent> events(HostOnBoard host) {
    List<LedgerEvent> events = new ArrayList<>();
    host.ledger
        .archive()
        .forEach(1, Long.MAX_VALUE, stored -> events.add(EventCodec.decode(stored).event()));
    return events;
  }

  static <E extends LedgerEvent> List<E> all(HostOnBoard host, Class<E> kind) {
    return events(host).stream().filter(kind::isInstance).map(kind::cast).toList();
  }

  static <E extends LedgerEvent> E first(List<LedgerEvent> events, Class<E> kind) {
    return events.stream().filter(kind::isInstance).map(kind::cast).findFirst().orElseThrow();
  }

  /** What is on record from the first trip on. */
  static List<LedgerEvent> sinceTheTrip(HostOnBoard host) {
    List<LedgerEvent> events = events(host);
    int trip = events.indexOf(first(events, LedgerEvent.Tripped.class));
    return events.subList(trip, events.size());
  }

  static List<TripCause> trips(HostOnBoard host) {
    return all(host, LedgerEvent.Tripped.class).stream()
        .map(trip -> TripCause.of(trip.code()).orElseThrow())
        .toList();
  }

  static List<String> outcomes(HostOnBoard host) {
    return all(host, ActEvent.ActEnded.class).stream().map(ActEvent.ActEnded::outcome).toList();
  }

  /** How the act ended that the trip has cut. */
  static String outcomeOfTheCutAct(HostOnBoard host) {
    return first(sinceTheTrip(host), ActEvent.ActEnded.class).outcome();
  }

  static Set<Long> boots(HostOnBoard host) {
    return all(host, LedgerEvent.HeadSeen.class).stream()
        .map(LedgerEvent.HeadSeen::bootId)
        .collect(Collectors.toSet());
  }

  /** The one magnet was accepted, and nothing failed on the way. */
  static void assertAccepted(HostOnBoard host) {
    Batch batch = ((BatchJob) host.bench.snapshot().job()).batch();
    assertThat(host.bench.failure()).isEmpty();
    assertThat(batch.entries())
        .extracting(entry -> entry.end().map(end -> end.verdict()))
        .containsExactly(Optional.of(Verdict.ACCEPTED));
  }

  /** Whatever was cut off, the first thing done to the magnet after it is a charge. */
  static void assertGoesOnWithACharge(HostOnBoard host) {
    assertAccepted(host);
    String next =
        sinceTheTrip(host).stream()
            .flatMap(event -> purpose(event).stream())
            .findFirst()
            .orElseThrow();
    assertThat(next).isEqualTo("charge");
  }

  private static Optional<String> purpose(LedgerEvent event) {
    if (event instanceof LedgerEvent.ActByHand hand) {
      return Optional.of(hand.act());
    }
    return event instanceof ActEvent.Intent intent
        ? Optional.of(intent.purpose())
        : Optional.empty();
  }
}
