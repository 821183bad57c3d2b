package lodestep.ledger;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.Predicate;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.StoredEvent;
import lodestep.quantity.Nearest;

/**
 * The magnets on record, to be found by number or by name. Any thread, immutable.
 *
 * @param magnets in the order they were named; a name may stand for several magnets
 */
public record MagnetNames(List<Named> magnets) {

  private static final int SUGGESTIONS_MAX = 3;

  public MagnetNames {
    magnets = List.copyOf(magnets);
  }

  /** A magnet and its name. */
  public record Named(long magnet, String name) {}

  /** What a search came to. */
  public sealed interface Search {

    /** These magnets, in the order they were named; at least one. */
    record Found(List<Long> magnets) implements Search {}

    /** None; these names are nearest, the nearest first; empty if nothing is on record. */
    record Unknown(List<String> nearest) implements Search {}

    /** One arm for each. */
    default <R> R match(Function<Found, R> found, Function<Unknown, R> unknown) {
      return this instanceof Found f ? found.apply(f) : unknown.apply((Unknown) this);
    }
  }

  /** All magnets of the record; errors are the archive's. */
  public static MagnetNames of(LedgerArchive archive) {
    List<Named> magnets = new ArrayList<>();
    Corrections corrections = Corrections.of(archive);
    Consumer<StoredEvent> each = stored -> addNamed(magnets, stored, corrections);
    archive.forEachOfKind(EventCodec.kind(MagnetNamed.class), each);
    return new MagnetNames(magnets);
  }

  /**
   * Finds magnets as {@link #find(String)} does, by the store's index where the name or number is
   * right letter by letter: the time for that does not grow with the record.
   */
  public static Search find(LedgerArchive archive, String written) {
    String wanted = written.strip();
    Corrections corrections = Corrections.of(archive);
    if (corrections.any()) {
      // The index knows names as they were written.
      return of(archive).find(written);
    }
    List<Named> exact = new ArrayList<>();
    archive.forEachNamed(
        EventCodec.kind(MagnetNamed.class), wanted, stored -> addNamed(exact, stored, corrections));
    if (exact.isEmpty() && wanted.matches("#?[1-9][0-9]{0,17}")) {
      long number = Long.parseLong(wanted.replace("#", ""));
      archive.forEach(number, number, stored -> addNamed(exact, stored, corrections));
      return exact.isEmpty() ? of(archive).find(written) : new MagnetNames(exact).find(written);
    }
    Search quick = new MagnetNames(exact).find(wanted);
    return quick.match(found -> found, unknown -> of(archive).find(written));
  }

  private static void addNamed(List<Named> magnets, StoredEvent stored, Corrections corrections) {
    if (EventCodec.decode(stored).event() instanceof MagnetNamed named) {
      magnets.add(new Named(stored.number(), corrections.now(stored.number(), named).name()));
    }
  }

  /**
   * Finds magnets by what a person wrote: a name as it stands on record, else a name but for upper
   * and lower case, else a number, which may have {@code #} before it.
   */
  public Search find(String written) {
    String wanted = written.strip();
    List<Long> found = numbers(named -> named.name().equals(wanted));
    if (found.isEmpty()) {
      found = numbers(named -> named.name().equalsIgnoreCase(wanted));
    }
    if (found.isEmpty()) {
      String number = wanted.startsWith("#") ? wanted.substring(1) : wanted;
      found = numbers(named -> Long.toString(named.magnet()).equals(number));
    }
    return found.isEmpty() ? new Search.Unknown(nearest(wanted)) : new Search.Found(found);
  }

  /**
   * This name, or "name-2", "name-3" and so on: the first that no magnet on record has, nor has it
   * as the first of several, "name.1".
   */
  public String free(String wanted) {
    String free = wanted;
    for (int next = 2; isTaken(free); next++) {
      free = wanted + "-" + next;
    }
    return free;
  }

  private boolean isTaken(String name) {
    return magnets.stream()
        .anyMatch(
            named ->
                named.name().equalsIgnoreCase(name) || named.name().equalsIgnoreCase(name + ".1"));
  }

  private List<Long> numbers(Predicate<Named> wanted) {
    return magnets.stream().filter(wanted).map(Named::magnet).toList();
  }

  private List<String> nearest(String wanted) {
    String lower = wanted.toLowerCase(Locale.ROOT);
    return magnets.stream()
        .map(Named::name)
        .distinct()
        .sorted(
            Comparator.comparingInt(name -> Nearest.distance(lower, name.toLowerCase(Locale.ROOT))))
        .limit(SUGGESTIONS_MAX)
        .toList();
  }
}
