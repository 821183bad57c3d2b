package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.PlanRow;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.OpenWork;
import lodestep.ledger.Proof;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.StoredEvent;
import lodestep.port.TripCause;
import org.junit.jupiter.api.Test;

/**
 * Goal: a program that ends at any moment leaves a record from which the next one goes on, with
 * nothing lost and nothing counted on that is not known.
 *
 * <p>Method: a restart knows nothing but what was durable. So one run tells every durable length
 * that the record ever had, and each of them is taken up by a program of its own, which has to
 * bring the batch to its end.
 */
class RestartTest {

  private static final long SEED = 29;

  /** In microtesla, half of what the rod is to keep: no magnet of the stock comes so by chance. */
  private static final long CHARGED = 40_000;

  private static final PlanRow[] ROWS = {
    Benches.rod("rod", PoleUp.NORTH, Benches.level(650, 14), 1), Benches.returned("return", 40, 14)
  };

  private static final Outputs ENERGY =
      Outputs.high(OutputLine.BANK_FILL, OutputLine.BANK_HOLD, OutputLine.COIL_FIRE);

  private static Batch fresh() {
    return Benches.batch(PlannerMode.CURVE, ROWS);
  }

  /** The whole record of a run that nothing disturbs, and every length it had on the way. */
  private record Undisturbed(List<StoredEvent> events, Set<Integer> lengths) {
    static Undisturbed run() {
      MemoryStore store = Benches.emptyLedger();
      Set<Integer> lengths = new TreeSet<>();
      VirtualBench bench = Benches.started(store, fresh(), SEED);
      while (!bench.done()) {
        bench.runScan();
        lengths.add((int) bench.ledger().state().durableTo());
      }
      bench.end("done");
      lengths.add((int) store.newest().number());
      return new Undisturbed(stored(store), lengths);
    }

    MemoryStore storeOf(int length) {
      MemoryStore store = new MemoryStore();
      store.commit(events.subList(0, length));
      return store;
    }
  }

  private static List<StoredEvent> stored(MemoryStore store) {
    List<StoredEvent> events = new ArrayList<>();
    store.forEach(1, store.newest().number(), events::add);
    return events;
  }

  private static List<LedgerEntry> entries(MemoryStore store) {
    return stored(store).stream().map(EventCodec::decode).toList();
  }

  private static <E extends LedgerEvent> List<E> all(List<LedgerEntry> entries, Class<E> kind) {
    return entries.stream()
        .map(LedgerEntry::event)
        .filter(kind::isInstance)
        .map(kind::cast)
        .toList();
  }

  @Test
  void goesOnFromEveryDurableLengthOfTheRecord() {
    Undisturbed undisturbed = Undisturbed.run();
    int continued = 0;
    int unknown = 0;
    int keptAccepted = 0;
    for (int length : undisturbed.lengths()) {
      MemoryStore store = undisturbed.storeOf(length);
      OpenWork open = OpenWork.of(store);
      var batch = Benches.leftOpen(store, ROWS);
      List<LedgerEntry> before = entries(store);
      assertThat(batch.isPresent())
          .as("a batch is open at %d", length)
          .isEqualTo(
              !all(before, LedgerEvent.BatchStarted.class).isEmpty()
                  && all(before, LedgerEvent.BatchEnded.class).isEmpty());
      if (batch.isPresent()) {
        VirtualBench bench = Benches.started(store, batch.get(), SEED);
        Benches.toTheEnd(bench);
        bench.end("done");
        checkWhole(entries(store), length);
        checkGoneOn(entries(store), length, open);
        assertThat(Proof.of(store, List.of())).isInstanceOf(Proof.Result.Whole.class);
        continued++;
        unknown += open.intents().size();
        keptAccepted += accepted(before).size();
      }
    }
    assertThat(continued).as("restarts").isGreaterThan(20);
    assertThat(unknown).as("restarts with a pulse unknown").isGreaterThan(4);
    assertThat(keptAccepted).as("restarts with a magnet accepted").isGreaterThan(4);
  }

  private static Set<Long> accepted(List<LedgerEntry> entries) {
    return all(entries, LedgerEvent.VerdictGiven.class).stream()
        .filter(verdict -> verdict.verdict().equals("accepted"))
        .map(LedgerEvent.VerdictGiven::magnet)
        .collect(Collectors.toSet());
  }

  /**
   * Every intent has one end, every attempt one verdict, and the batch ended once, with none open.
   */
  private static void checkWhole(List<LedgerEntry> entries, int length) {
    List<Long> intents =
        entries.stream()
            .filter(entry -> entry.event() instanceof ActEvent.PulseIntended)
            .map(LedgerEntry::number)
            .toList();
    assertThat(all(entries, ActEvent.PulseEnded.class))
        .as("ends of pulses, restarted at %d", length)
        .extracting(ActEvent.PulseEnded::intent)
        .containsExactlyElementsOf(intents);
    Map<String, Long> verdicts =
        all(entries, LedgerEvent.VerdictGiven.class).stream()
            .collect(
                Collectors.groupingBy(
                    verdict -> verdict.magnet() + "/" + verdict.attempt(), Collectors.counting()));
    assertThat(all(entries, LedgerEvent.MagnetStarted.class))
        .as("verdicts, restarted at %d", length)
        .allSatisfy(
            started ->
                assertThat(verdicts.get(started.magnet() + "/" + started.attempt())).isEqualTo(1))
        .hasSameSizeAs(verdicts.keySet());
    assertThat(all(entries, LedgerEvent.MagnetNamed.class)).hasSize(ROWS.length);
    assertThat(all(entries, LedgerEvent.BatchEnded.class))
        .singleElement()
        .extracting(LedgerEvent.BatchEnded::open)
        .isEqualTo(0L);
    assertThat(all(entries, LedgerEvent.HeadSeen.class)).hasSizeBetween(1, 2);
  }

  private static void checkGoneOn(List<LedgerEntry> entries, int length, OpenWork open) {
    List<LedgerEntry> before = entries.subList(0, length);
    List<LedgerEntry> after = entries.subList(length, entries.size());
    assertThat(all(after, LedgerEvent.BatchContinued.class)).hasSize(1);
    assertThat(all(after, LedgerEvent.ProgramStarted.class)).hasSize(1);
    assertThat(all(after, LedgerEvent.Tripped.class)).isEmpty();
    assertThat(all(after, ActEvent.PulseEnded.class))
        .filteredOn(ended -> ended.outcome().equals("unknown"))
        .extracting(ActEvent.PulseEnded::intent)
        .containsExactlyElementsOf(open.intents().keySet());
    Set<Long> kept = accepted(before);
    assertThat(all(after, LedgerEvent.MagnetStarted.class))
        .as("started after a restart at %d", length)
        .noneMatch(started -> kept.contains(started.magnet()));
    open.magnets()
        .forEach(
            (magnet, attempt) -> {
              assertThat(all(after, LedgerEvent.MagnetStarted.class).get(0))
                  .as("begins again, restarted at %d", length)
                  .extracting(LedgerEvent.MagnetStarted::magnet, LedgerEvent.MagnetStarted::attempt)
                  .containsExactly(magnet, attempt.started().attempt() + 1);
              checkChargedFirst(entries, after, magnet);
            });
  }

  /** A magnet whose row allows it begins again with a charge. */
  private static void checkChargedFirst(
      List<LedgerEntry> entries, List<LedgerEntry> after, long magnet) {
    LedgerEvent named = entries.get((int) magnet - 1).event();
    if (((LedgerEvent.MagnetNamed) named).task().equals("level")) {
      assertThat(all(after, ActEvent.PulseIntended.class).get(0))
          .extracting(ActEvent.PulseIntended::magnet, ActEvent.PulseIntended::purpose)
          .containsExactly(magnet, "charge");
    }
  }

  /**
   * The stock that lies there after a restart is the stock that was left: a magnet once charged
   * reads so, and a charge that may have been fired counts as fired.
   */
  @Test
  void meetsAMagnetAsTheRecordLeftIt() {
    Undisturbed undisturbed = Undisturbed.run();
    List<LedgerEntry> whole = undisturbed.events().stream().map(EventCodec::decode).toList();
    long magnet = all(whole, LedgerEvent.MagnetStarted.class).get(0).magnet();
    assertThat(asFound(whole, magnet)).as("comes with next to no charge").isLessThan(CHARGED);
    long firstCharge =
        whole.stream()
            .filter(entry -> entry.event() instanceof ActEvent.PulseIntended)
            .findFirst()
            .orElseThrow()
            .number();
    int found = 0;
    for (int length : undisturbed.lengths()) {
      MemoryStore store = undisturbed.storeOf(length);
      if (OpenWork.of(store).magnets().containsKey(magnet)) {
        VirtualBench bench = Benches.started(store, leftOpen(store), SEED);
        Benches.toTheEnd(bench);
        bench.end("done");
        List<LedgerEntry> after = entries(store).subList(length, (int) store.newest().number());
        assertThat(asFound(after, magnet) > CHARGED)
            .as("charged when met again at %d", length)
            .isEqualTo(length >= firstCharge);
        found++;
      }
    }
    assertThat(found).isGreaterThan(8);
  }

  private static long asFound(List<LedgerEntry> entries, long magnet) {
    return all(entries, LedgerEvent.ReadingTaken.class).stream()
        .filter(reading -> reading.magnet() == magnet && reading.stage().equals("as found"))
        .mapToLong(LedgerEvent.ReadingTaken::fieldMicroTesla)
        .findFirst()
        .orElseThrow();
  }

  @Test
  void keepsATripOverARestartUntilTheArmKeyIsTurned() {
    MemoryStore store = Benches.emptyLedger();
    VirtualBench first = Benches.started(store, fresh(), SEED);
    while (!first.scan().snapshot().driven().isHigh(OutputLine.BANK_FILL)) {
      first.runScan();
    }
    first.scan().askStop();
    long stoppedAt = first.ledger().nextNumber();
    while (first.ledger().state().durableTo() < stoppedAt) {
      first.runScan();
    }

    VirtualBench second = Benches.started(store, leftOpen(store), SEED);
    long before = store.newest().number();
    List<TripCause> trips = new ArrayList<>();
    while (!(second.job() instanceof BatchJob.Loading) || trips.isEmpty()) {
      second.runScan();
      second.scan().snapshot().trip().ifPresent(trip -> trips.add(trip.cause()));
      assertThat(second.scan().snapshot().driven().only(ENERGY)).isEqualTo(Outputs.ALL_LOW);
    }
    assertThat(trips).containsOnly(TripCause.STOP_ASKED);
    Benches.toTheEnd(second);
    second.end("done");

    List<LedgerEntry> after = entries(store).subList((int) before, (int) store.newest().number());
    assertThat(all(after, LedgerEvent.TripReset.class))
        .containsExactly(new LedgerEvent.TripReset(TripCause.STOP_ASKED.code()));
    assertThat(all(after, LedgerEvent.Tripped.class)).as("no trip is told twice").isEmpty();
    assertThat(OpenWork.of(store).trip()).isEmpty();
  }

  private static Batch leftOpen(MemoryStore store) {
    return Benches.leftOpen(store, ROWS).orElseThrow();
  }

  @Test
  void tripsLetsGoAndKeepsTheRecordWhenTheDiskFillsInMidBatchAndGoesOnWhenThereIsRoom() {
    MemoryStore store = Benches.emptyLedger();
    VirtualBench first = Benches.started(store, fresh(), SEED);
    while (!first.scan().snapshot().driven().isHigh(OutputLine.BANK_FILL)) {
      first.runScan();
    }
    first.ledger().fillDisk();
    while (!first.gaveUp()) {
      first.runScan();
      boolean tripped = first.scan().snapshot().trip().isPresent();
      assertThat(tripped && !letGo(first)).isFalse();
    }
    assertThat(first.scan().snapshot().trip().orElseThrow().cause())
        .isEqualTo(TripCause.LEDGER_FAILED);
    assertThat(first.scan().snapshot().trip().orElseThrow().detail()).contains("the disk is full");
    first.end("gave up");

    assertThat(Proof.of(store, List.of())).isInstanceOf(Proof.Result.Whole.class);
    VirtualBench second = Benches.started(store, leftOpen(store), SEED);
    Benches.toTheEnd(second);
    second.end("done");
    checkWhole(entries(store), 0);
  }

  private static boolean letGo(VirtualBench bench) {
    return bench.scan().snapshot().driven().only(ENERGY).equals(Outputs.ALL_LOW);
  }
}
