package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lodestep.port.ActEvent.ActEnded;
import lodestep.port.ActEvent.Intent;
import lodestep.port.ChainEnd;
import lodestep.port.GaugeEvent;
import lodestep.port.KeepingEvent.KeepingAsked;
import lodestep.port.KeepingEvent.MagnetNoted;
import lodestep.port.KeepingEvent.MagnetReread;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.MagnetStarted;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.Tripped;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.StockEvent;
import lodestep.port.StoredEvent;
import org.junit.jupiter.api.Test;

class MagnetHistoryTest {

  private static final List<StoredEvent> EVENTS =
      SampleEvents.chained(ChainEnd.EMPTY, SampleEvents.twoMagnets());

  @Test
  void tellsEverythingThatHappenedInOrder() {
    MagnetHistory history = history(3);

    assertThat(history.identity().name()).isEqualTo("Wren 1");
    assertThat(history.attempts()).isEqualTo(2);
    assertThat(history.happenings().stream().map(MagnetHistoryTest::words))
        .containsExactly(
            "5 (1) started",
            "6 (1) as found 120",
            "7 (1) charge delivered",
            "9 (1) charged 71300",
            "10 (1) knock down unverified",
            "11 (1) trip 12",
            "13 (1) tripped",
            "14 (2) started",
            "15 (2) charge delivered",
            "17 (2) final 41200",
            "18 (2) accepted");
  }

  @Test
  void showsAPulseWithoutAnEndAsOpen() {
    MagnetHistory history = history(4);

    assertThat(history.acts())
        .singleElement()
        .satisfies(pulse -> assertThat(pulse.end()).isEmpty());
    assertThat(history.standingVerdict()).isEmpty();
  }

  @Test
  void givesTheVerdictThatStands() {
    assertThat(history(3).standingVerdict()).map(VerdictGiven::verdict).contains("accepted");
    // Started again after the trip, and not yet judged.
    assertThat(
            MagnetHistory.among(SampleEvents.entries(EVENTS.subList(0, 15)), 3)
                .flatMap(MagnetHistory::standingVerdict))
        .isEmpty();
  }

  @Test
  void knowsNothingOfAnythingButAMagnet() {
    MemoryStore store = store();

    assertThat(MagnetHistory.of(store, 0)).isEmpty();
    assertThat(MagnetHistory.of(store, 2)).isEmpty();
    assertThat(MagnetHistory.of(store, 99)).isEmpty();
  }

  @Test
  void findsTheSameAmongAllEventsAsByTheIndex() {
    assertThat(MagnetHistory.among(SampleEvents.entries(EVENTS), 3)).contains(history(3));
  }

  @Test
  void findsAMagnetByNameThenByNumber() {
    MagnetNames names = MagnetNames.of(store());

    assertThat(names.find(" Wren 2 ")).isEqualTo(found(4));
    assertThat(names.find("wREN 1")).isEqualTo(found(3));
    assertThat(names.find("4")).isEqualTo(found(4));
    assertThat(names.find("#3")).isEqualTo(found(3));
  }

  @Test
  void prefersANameThatIsANumberToTheNumber() {
    MagnetNames names =
        new MagnetNames(List.of(new MagnetNames.Named(5, "9"), new MagnetNames.Named(9, "5")));

    assertThat(names.find("9")).isEqualTo(found(5));
    assertThat(names.find("#9")).isEqualTo(found(9));
  }

  @Test
  void findsAllMagnetsOfOneName() {
    MagnetNames names =
        new MagnetNames(
            List.of(new MagnetNames.Named(5, "Wren"), new MagnetNames.Named(80, "Wren")));

    assertThat(names.find("Wren")).isEqualTo(new MagnetNames.Search.Found(List.of(5L, 80L)));
  }

  @Test
  void suggestsTheNearestNames() {
    MagnetNames names =
        new MagnetNames(
            List.of(
                new MagnetNames.Named(5, "Heron 1"),
                new MagnetNames.Named(6, "Wren 12"),
                new MagnetNames.Named(7, "Wren 1"),
                new MagnetNames.Named(8, "Robin 3")));

    assertThat(names.find("wrn 1"))
        .isEqualTo(new MagnetNames.Search.Unknown(List.of("Wren 1", "Wren 12", "Heron 1")));
    assertThat(new MagnetNames(List.of()).find("x"))
        .isEqualTo(new MagnetNames.Search.Unknown(List.of()));
  }

  private static MagnetNames.Search found(long magnet) {
    return new MagnetNames.Search.Found(List.of(magnet));
  }

  private static MagnetHistory history(long magnet) {
    return MagnetHistory.of(store(), magnet).orElseThrow();
  }

  private static MemoryStore store() {
    MemoryStore store = new MemoryStore();
    store.commit(EVENTS);
    return store;
  }

  private static String words(MagnetHistory.Happening happening) {
    return happening.number()
        + " ("
        + happening.attempt()
        + ") "
        + happening.what().match(new Words());
  }

  private static final class Words implements MagnetHistory.Arms<String> {

    @Override
    public String started(MagnetStarted event) {
      return "started";
    }

    @Override
    public String proven(LedgerEvent.BankProven event) {
      return "proven at " + event.filledMilliVolts();
    }

    @Override
    public String reading(ReadingTaken event) {
      return event.stage() + " " + event.fieldMicroTesla();
    }

    @Override
    public String acted(Intent intent, Optional<ActEnded> end) {
      return intent.purpose() + " " + end.map(ActEnded::outcome).orElse("open");
    }

    @Override
    public String byHand(LedgerEvent.ActByHand event) {
      return "by hand " + event.act();
    }

    @Override
    public String typed(LedgerEvent.ReadingTyped event) {
      return "typed " + event.typed();
    }

    @Override
    public String atPoints(GaugeEvent.PointEvent event) {
      return "points " + event.magnet();
    }

    @Override
    public String trip(Tripped event) {
      return "trip " + event.code();
    }

    @Override
    public String corrected(StockEvent event) {
      return EventCodec.kind(event.getClass());
    }

    @Override
    public String verdict(VerdictGiven event) {
      return event.verdict();
    }

    @Override
    public String asked(KeepingAsked event) {
      return "survives " + event.survivesAmperesPerMetre();
    }

    @Override
    public String noted(MagnetNoted event) {
      return "noted " + event.what();
    }

    @Override
    public String reread(MagnetReread event) {
      return "read again " + event.finding();
    }
  }

  @Test
  void showsActsByHandAndTypedReadingsAmongTheRest() {
    List<LedgerEvent> events = new ArrayList<>(SampleEvents.twoMagnets());
    events.add(
        new LedgerEvent.ActByHand(3, 2, 1, "knock down", false, "closer", 41_200, 39_000, 500));
    events.add(new LedgerEvent.ReadingTyped(3, 40_000, "north", "shelf gauge", "400 G north"));
    MagnetHistory history =
        MagnetHistory.among(SampleEvents.entries(SampleEvents.chained(ChainEnd.EMPTY, events)), 3)
            .orElseThrow();

    assertThat(history.happenings().stream().map(MagnetHistoryTest::words))
        .endsWith("21 (2) by hand knock down", "22 (2) typed 400 G north");
    assertThat(history.readings()).noneMatch(reading -> reading.fieldMicroTesla() == 40_000);
  }

  @Test
  void isToBeReadAgainFromItsNoteUntilAReadingSettlesIt() {
    List<LedgerEvent> events = new ArrayList<>(SampleEvents.twoMagnets());
    assertThat(history(3).toBeReadAgain()).isEmpty();

    events.add(new MagnetNoted(3, "drop", "on its end"));
    assertThat(among(events).toBeReadAgain()).map(MagnetNoted::what).contains("drop");
    events.add(reread("cannot tell"));
    assertThat(among(events).toBeReadAgain()).isPresent();
    assertThat(among(events).standingVerdict()).map(VerdictGiven::verdict).contains("accepted");
    events.add(reread("moved"));
    assertThat(among(events).toBeReadAgain()).isEmpty();
    events.add(new MagnetNoted(3, "heat", ""));
    assertThat(among(events).toBeReadAgain()).map(MagnetNoted::what).contains("heat");
  }

  @Test
  void anAcceptedMagnetThatMovedHasTheLevelItMovedTo() {
    List<LedgerEvent> events = new ArrayList<>(SampleEvents.twoMagnets());
    events.add(reread("kept"));
    assertThat(accepted(events).fieldMicroTesla()).isEqualTo(41_200);

    events.add(reread("moved"));
    assertThat(accepted(events).fieldMicroTesla()).isEqualTo(38_000);
    assertThat(accepted(events).uncertaintyNanoTesla()).isEqualTo(97_000);
    assertThat(accepted(events).knownBy()).as("the reading's entry").isEqualTo(events.size());
    assertThat(accepted(events).noted()).isEmpty();

    events.add(new MagnetNoted(3, "knock", ""));
    assertThat(accepted(events).noted()).isPresent();
  }

  private static AcceptedMagnet accepted(List<LedgerEvent> events) {
    MemoryStore store = new MemoryStore();
    store.commit(SampleEvents.chained(ChainEnd.EMPTY, events));
    List<AcceptedMagnet> all = AcceptedMagnet.of(store);
    assertThat(all).hasSize(1);
    return all.get(0);
  }

  private static MagnetHistory among(List<LedgerEvent> events) {
    return MagnetHistory.among(
            SampleEvents.entries(SampleEvents.chained(ChainEnd.EMPTY, events)), 3)
        .orElseThrow();
  }

  private static MagnetReread reread(String finding) {
    return new MagnetReread(
        3, 18, 17, 38_000, 97_000, -3_200_000, 120_000, -9_000, 86_400, finding, "a sentence");
  }

  @Test
  void takesEveryKindOfEventThatNamesAMagnet() {
    // A kind with a magnet that the history does not show would be a gap nobody sees. The figures
    // of
    // a curve's points are those of acts and readings that it shows.
    List<String> aboutMagnets =
        EventKind.kinds(LedgerEvent.class)
            .filter(MagnetHistoryTest::hasMagnet)
            .map(type -> EventCodec.kind(type.asSubclass(LedgerEvent.class)))
            .sorted()
            .toList();

    assertThat(aboutMagnets)
        .containsExactly(
            "act-by-hand",
            "bank-proven",
            "curve-point",
            "keeping-asked",
            "magnet-corrected",
            "magnet-noted",
            "magnet-reread",
            "magnet-scrapped",
            "magnet-started",
            "magnet-wound",
            "magnets-exchanged",
            "point-read",
            "points-judged",
            "points-started",
            "pulse-ended",
            "pulse-intended",
            "reading-taken",
            "reading-typed",
            "stroke-ended",
            "stroke-intended",
            "switched-pulse-intended",
            "target-told",
            "tripped",
            "verdict-given");
  }

  private static boolean hasMagnet(Class<?> type) {
    return Stream.of(type.getRecordComponents())
        .anyMatch(component -> component.getName().equals("magnet"));
  }
}
