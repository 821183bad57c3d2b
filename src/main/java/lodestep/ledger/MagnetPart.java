package lodestep.ledger;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import lodestep.port.GaugeEvent.GaugeJudged;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.BatchContinued;
import lodestep.port.LedgerEvent.BatchEnded;
import lodestep.port.LedgerEvent.CalibrationSet;
import lodestep.port.LedgerEvent.GapCurveMeasured;
import lodestep.port.LedgerEvent.HeadSeen;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.MagnetStarted;
import lodestep.port.LedgerEvent.ProgramStarted;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.RigDescribed;
import lodestep.port.StoredEvent;

/**
 * Which events tell all of one magnet: its own, those they refer to by number (zero, calibration,
 * batch), and what was in force: program, rig's description, head, gap curve and the gauge's check.
 * Any thread, no state.
 */
public final class MagnetPart {

  private MagnetPart() {}

  /**
   * The numbers of these events, rising; event 1 is always one of them.
   *
   * @param unbroken whether all events between the magnet's first and last are wanted as well
   * @throws IllegalArgumentException if there is no such magnet, or an event of it is unreadable
   */
  public static SortedSet<Long> numbers(LedgerArchive archive, long magnet, boolean unbroken) {
    NavigableMap<Long, LedgerEvent> own = new TreeMap<>();
    archive.forEachOfMagnet(magnet, stored -> put(own, stored));
    if (!(own.get(magnet) instanceof MagnetNamed named)) {
      throw new IllegalArgumentException("there is no magnet of number " + magnet);
    }
    TreeSet<Long> numbers = new TreeSet<>(own.keySet());
    numbers.add(1L);
    own.values().forEach(event -> referred(event, numbers));
    if (named.batch() > 0) {
      numbers.add(named.batch());
      all(archive, BatchContinued.class)
          .forEach((n, e) -> addIf(((BatchContinued) e).batch() == named.batch(), n, numbers));
      all(archive, BatchEnded.class)
          .forEach((n, e) -> addIf(((BatchEnded) e).batch() == named.batch(), n, numbers));
    }
    inForce(archive, own, numbers);
    if (unbroken) {
      for (long number = magnet; number <= own.lastKey(); number++) {
        numbers.add(number);
      }
    }
    return numbers;
  }

  private static void addIf(boolean wanted, long number, Set<Long> numbers) {
    if (wanted) {
      numbers.add(number);
    }
  }

  private static void put(Map<Long, LedgerEvent> events, StoredEvent stored) {
    events.put(stored.number(), EventCodec.decode(stored).event());
  }

  private static void referred(LedgerEvent event, Set<Long> numbers) {
    if (event instanceof ReadingTaken reading) {
      addIf(reading.zero() > 0, reading.zero(), numbers);
      addIf(reading.calibration() > 0, reading.calibration(), numbers);
    }
  }

  private static NavigableMap<Long, LedgerEvent> all(
      LedgerArchive archive, Class<? extends LedgerEvent> kind) {
    NavigableMap<Long, LedgerEvent> found = new TreeMap<>();
    archive.forEachOfKind(EventCodec.kind(kind), stored -> put(found, stored));
    return found;
  }

  private static void inForce(
      LedgerArchive archive, NavigableMap<Long, LedgerEvent> own, Set<Long> numbers) {
    NavigableMap<Long, LedgerEvent> programs = all(archive, ProgramStarted.class);
    newest(programs, own.keySet(), numbers);
    Set<String> rigs = new HashSet<>();
    numbers.forEach(
        number -> {
          if (programs.get(number) instanceof ProgramStarted program) {
            rigs.add(program.rigFileSha256());
          }
        });
    all(archive, RigDescribed.class)
        .forEach((n, e) -> addIf(rigs.contains(((RigDescribed) e).sha256()), n, numbers));
    for (Class<? extends LedgerEvent> kind :
        List.of(HeadSeen.class, GapCurveMeasured.class, CalibrationSet.class)) {
      newest(all(archive, kind), own.keySet(), numbers);
    }
    checks(archive, own, numbers);
  }

  private static void newest(
      NavigableMap<Long, LedgerEvent> candidates, Set<Long> at, Set<Long> numbers) {
    for (long number : at) {
      Optional.ofNullable(candidates.floorKey(number)).ifPresent(numbers::add);
    }
  }

  /** The gauge's newest check in the nest of each attempt, and the reading it judged. */
  private static void checks(
      LedgerArchive archive, NavigableMap<Long, LedgerEvent> own, Set<Long> numbers) {
    NavigableMap<Long, LedgerEvent> judged = all(archive, GaugeJudged.class);
    Function<LedgerEvent, String> nest = event -> ((GaugeJudged) event).nest();
    List<Long> found = new ArrayList<>();
    own.forEach(
        (number, event) -> {
          if (event instanceof MagnetStarted started) {
            judged.headMap(number, false).descendingMap().entrySet().stream()
                .filter(check -> nest.apply(check.getValue()).equals(started.nest()))
                .findFirst()
                .ifPresent(
                    check -> {
                      found.add(check.getKey());
                      found.add(((GaugeJudged) check.getValue()).reading());
                    });
          }
        });
    numbers.addAll(found);
  }
}
