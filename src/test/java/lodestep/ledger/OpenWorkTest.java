package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import lodestep.port.ActEvent.PulseEnded;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.MagnetStarted;
import lodestep.port.LedgerEvent.ProgramStarted;
import lodestep.port.LedgerEvent.TripReset;
import lodestep.port.LedgerEvent.Tripped;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.StoredEvent;
import org.junit.jupiter.api.Test;

class OpenWorkTest {

  private static final List<StoredEvent> EVENTS =
      SampleEvents.chained(ChainEnd.EMPTY, SampleEvents.twoMagnets());

  @Test
  void findsThePulseAndTheMagnetLeftOpen() {
    OpenWork open = OpenWork.among(SampleEvents.entries(EVENTS));

    assertThat(open.intents()).containsOnlyKeys(20L);
    assertThat(open.magnets()).containsOnlyKeys(4L);
  }

  @Test
  void findsWhatWasOpenAtEveryMomentOfTheFirstMagnet() {
    // An intent is open from its event to its end, a magnet from its start to its verdict.
    List<Long> intentFrom = List.of(7L, 10L, 15L);
    List<Long> intentTo = List.of(8L, 12L, 16L);
    for (int n = 1; n <= 18; n++) {
      long now = n;
      OpenWork open = OpenWork.among(SampleEvents.entries(EVENTS.subList(0, n)));

      assertThat(open.intents().keySet())
          .as("after event %d", n)
          .containsExactlyElementsOf(
              intentFrom.stream()
                  .filter(from -> from <= now && now < intentTo.get(intentFrom.indexOf(from)))
                  .toList());
      assertThat(open.magnets().containsKey(3L))
          .as("after event %d", n)
          .isEqualTo((n >= 5 && n < 13) || (n >= 14 && n < 18));
    }
  }

  @Test
  void closesAnOpenPulseAsUnknownAndItsAttemptAsTripped() {
    OpenWork open = OpenWork.among(SampleEvents.entries(EVENTS));

    List<LedgerEvent> closings = open.closings("the program ended before the pulse did");

    assertThat(closings).hasSize(2);
    assertThat(closings.get(0))
        .isInstanceOfSatisfying(
            PulseEnded.class,
            ended -> {
              assertThat(ended.intent()).isEqualTo(20);
              assertThat(ended.magnet()).isEqualTo(4);
              assertThat(ended.outcome()).isEqualTo("unknown");
              assertThat(ended.why()).isEqualTo("the program ended before the pulse did");
            });
    assertThat(closings.get(1))
        .isInstanceOfSatisfying(
            VerdictGiven.class,
            verdict -> {
              assertThat(verdict.magnet()).isEqualTo(4);
              assertThat(verdict.attempt()).isEqualTo(1);
              assertThat(verdict.verdict()).isEqualTo("tripped");
              assertThat(verdict.charges()).isEqualTo(1);
              assertThat(verdict.knockDowns()).isZero();
            });
    List<StoredEvent> closed = SampleEvents.chained(EVENTS.get(EVENTS.size() - 1).end(), closings);
    OpenWork after = OpenWork.among(SampleEvents.entries(join(EVENTS, closed)));
    assertThat(after.intents()).isEmpty();
    assertThat(after.magnets()).isEmpty();
  }

  @Test
  void findsTheTripThatWasNotReset() {
    Tripped trip = new Tripped(12, "the lid was opened", "lid_a open", 3);

    assertThat(OpenWork.among(SampleEvents.entries(EVENTS)).trip()).contains(trip);
    assertThat(OpenWork.among(after(new TripReset(12))).trip()).isEmpty();
    assertThat(OpenWork.among(after(new TripReset(12), trip)).trip()).contains(trip);
  }

  @Test
  void readsOfAnArchiveOnlyWhatFollowsTheNewestStartButAlwaysTheTrip() {
    MemoryStore store = new MemoryStore();
    store.commit(EVENTS);
    List<LedgerEvent> start =
        new ArrayList<>(OpenWork.of(store).closings("the program ended before the pulse did"));
    start.add(new ProgramStarted("1", "", "", false));
    store.commit(SampleEvents.chained(store.newest(), start));

    OpenWork open = OpenWork.of(store);

    assertThat(open.intents()).isEmpty();
    assertThat(open.magnets()).isEmpty();
    assertThat(open.trip()).map(Tripped::code).contains(12L);
    store.commit(SampleEvents.chained(store.newest(), List.of(new TripReset(12))));
    assertThat(OpenWork.of(store).trip()).isEmpty();
  }

  private static List<LedgerEntry> after(LedgerEvent... more) {
    return SampleEvents.entries(
        join(EVENTS, SampleEvents.chained(EVENTS.get(EVENTS.size() - 1).end(), List.of(more))));
  }

  @Test
  void keepsAMagnetOpenWithItsNewestAttempt() {
    List<StoredEvent> again =
        SampleEvents.chained(
            EVENTS.get(EVENTS.size() - 1).end(),
            List.of(new MagnetStarted(4, 2, "tall nest", "expected curve")));

    OpenWork open = OpenWork.among(SampleEvents.entries(join(EVENTS, again)));

    assertThat(open.magnets())
        .containsOnly(
            Map.entry(
                4L,
                new OpenWork.Attempt(
                    new MagnetStarted(4, 2, "tall nest", "expected curve"), List.of())));
  }

  @Test
  void readsAnArchiveAsItReadsAList() {
    MemoryStore store = new MemoryStore();
    store.commit(EVENTS);

    assertThat(OpenWork.of(store)).isEqualTo(OpenWork.among(SampleEvents.entries(EVENTS)));
  }

  private static List<StoredEvent> join(List<StoredEvent> first, List<StoredEvent> second) {
    return Stream.concat(first.stream(), second.stream()).toList();
  }
}
