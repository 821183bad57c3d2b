package lodestep.paper;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Optional;
import lodestep.ledger.Corrections;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.Pickup;
import lodestep.magnet.AlloyBook;
import lodestep.port.StockEvent.LotReceived;
import lodestep.port.StockEvent.MagnetCorrected;
import lodestep.port.StockEvent.MagnetScrapped;
import lodestep.port.StockEvent.MagnetsExchanged;
import lodestep.port.StockEvent.OrderHandedOver;
import lodestep.port.StockEvent.OrderTaken;
import lodestep.port.StockEvent.PickupBuilt;
import lodestep.quantity.Nearest;

/**
 * What people put on record of stock, orders and pickups, judged before it is written. Every
 * refusal is an {@link IllegalArgumentException} with one sentence. Any thread, immutable.
 *
 * @param sign before a field's name in a sentence: two dashes on a command line, nothing in a form
 */
public record Entered(String sign) {

  /** As many strings as any instrument of the trade has, twice over; common practice, no source. */
  public static final int POLES_MAX = 24;

  private static final int NAME_MAX = 40;
  private static final int WORDS_MAX = 200;
  private static final int QUANTITY_MAX = 1_000_000;

  /** A pickup's name, as it can stand on a baseplate and in a record. */
  public static String name(String written) {
    return name("a pickup's", written);
  }

  private static String name(String of, String written) {
    String plain = written.strip();
    if (plain.isEmpty()
        || plain.length() > NAME_MAX
        || plain.chars().anyMatch(Character::isISOControl)) {
      throw new IllegalArgumentException(
          of + " name has 1 to " + NAME_MAX + " letters in one line");
    }
    return plain;
  }

  /** One line of words; may be empty. */
  public String line(String field, String words) {
    String plain = words.strip();
    if (plain.length() > WORDS_MAX || plain.chars().anyMatch(Character::isISOControl)) {
      throw new IllegalArgumentException(
          sign + field + ": one line of " + WORDS_MAX + " letters at most");
    }
    return plain;
  }

  /** What was said with more behind it; without it, where both are no line any more. */
  public static String within(String said, String more) {
    String both = said.isEmpty() ? more : said + "; " + more;
    return both.length() > WORDS_MAX ? said : both;
  }

  private String said(String field, String words, String missing) {
    String plain = line(field, words);
    if (plain.isEmpty()) {
      throw new IllegalArgumentException(sign + field + ": " + missing);
    }
    return plain;
  }

  /** Refuses an alloy that is in no book. */
  public void requireAlloy(AlloyBook book, String alloy) {
    if (book.find(alloy).isEmpty()) {
      List<String> known = book.alloys().stream().map(each -> each.name()).toList();
      throw new IllegalArgumentException(
          sign
              + "alloy: no alloy '"
              + alloy
              + "'"
              + Nearest.hint(alloy, known)
              + "; all of them: lodestep magnet alloys");
    }
  }

  /** A lot that came in. */
  public LotReceived lot(LotReceived asked, AlloyBook book) {
    if (asked.quantity() < 1 || asked.quantity() > QUANTITY_MAX) {
      throw new IllegalArgumentException(
          sign + "quantity: 1 to " + QUANTITY_MAX + " magnets, not " + asked.quantity());
    }
    requireAlloy(book, asked.alloy());
    return new LotReceived(
        name("a lot's", asked.lot()),
        line("supplier", asked.supplier()),
        asked.alloy().strip(),
        asked.quantity(),
        line("said", asked.said()));
  }

  /** An order that was taken. */
  public OrderTaken order(OrderTaken asked) {
    return new OrderTaken(
        name("an order's", asked.name()),
        line("customer", asked.customer()),
        said("wanted", asked.wanted(), "say what is to be made"),
        day(asked.due()));
  }

  private String day(String due) {
    try {
      return due.isBlank() ? "" : LocalDate.parse(due.strip()).toString();
    } catch (DateTimeParseException wrong) {
      throw new IllegalArgumentException(
          sign + "due: a day is written like 2026-05-01, not '" + due + "'");
    }
  }

  /** An order that is handed over. */
  public OrderHandedOver handedOver(Ordered order, String words) {
    if (order.pickups().isEmpty()) {
      throw new IllegalArgumentException(
          "nothing was built for order '"
              + order.name()
              + "' yet"
              + (sign.isEmpty()
                  ? ""
                  : ": lodestep pickup build NAME --order '" + order.name() + "'"));
    }
    return new OrderHandedOver(order.name(), line("said", words));
  }

  /** The order of this name. */
  public static Ordered found(Things things, String name) {
    return things
        .order(name)
        .orElseThrow(
            () -> {
              List<String> names = things.orders().stream().map(Ordered::name).toList();
              return new IllegalArgumentException(
                  names.isEmpty()
                      ? "no order is on record yet"
                      : "no order '" + name + "' is on record" + Nearest.hint(name, names));
            });
  }

  /** A magnet that will never be used. */
  public MagnetScrapped scrapped(long magnet, String why) {
    return new MagnetScrapped(magnet, said("why", why, "say what happened to it"));
  }

  /**
   * What was written down wrongly of a magnet.
   *
   * @param field name, set, lot or alloy
   * @param value what it is; an alloy is one of the book
   * @throws IllegalArgumentException with one sentence, if it cannot be corrected so
   */
  public MagnetCorrected corrected(
      Things things, long magnet, String field, String value, String why) {
    if (field.equals("name") && things.magnet(value).isPresent()) {
      throw new IllegalArgumentException(
          sign + "name: there is a magnet '" + value + "' on record already");
    }
    MagnetHistory history =
        things
            .history(magnet)
            .orElseThrow(() -> new IllegalArgumentException("no such magnet is on record"));
    String was = Corrections.field(history.identity(), field);
    if (was.equals(value)) {
      throw new IllegalArgumentException("its " + field + " is '" + was + "' on record already");
    }
    return new MagnetCorrected(magnet, field, was, value, said("why", why, "say what happened"));
  }

  /**
   * Two magnets that changed places.
   *
   * @throws IllegalArgumentException with one sentence, if they are one
   */
  public MagnetsExchanged exchanged(long magnet, long other, String why) {
    if (other == magnet) {
      throw new IllegalArgumentException(
          sign + "exchanged-with: a magnet cannot change places with itself");
    }
    return new MagnetsExchanged(magnet, other, said("why", why, "say what happened"));
  }

  /**
   * A pickup of these magnets.
   *
   * @param asked its magnets in the order of the strings, accepted and in no other pickup
   * @param poles it shows; as many as magnets if left out
   */
  public PickupBuilt pickup(Things things, PickupBuilt asked, Optional<Integer> poles) {
    String plain = name(asked.name());
    if (things.pickup(plain).isPresent()) {
      throw new IllegalArgumentException(
          "there is a pickup '" + plain + "' on record already; give this one another name");
    }
    List<Long> numbers = asked.magnets();
    if (numbers.stream().distinct().count() < numbers.size()) {
      throw new IllegalArgumentException("a magnet is named twice; each is in one place only");
    }
    requireFree(things, numbers);
    things.levels(numbers);
    return new PickupBuilt(
        plain,
        line("order", asked.order()),
        poles(numbers.size(), poles),
        numbers,
        line("winding", asked.winding()),
        line("said", asked.said()));
  }

  private static void requireFree(Things things, List<Long> numbers) {
    for (Pickup other : things.pickups()) {
      for (long number : numbers) {
        if (other.built().magnets().contains(number)) {
          throw new IllegalArgumentException(
              "magnet " + number + " is in the pickup " + other.built().name() + " already");
        }
      }
    }
  }

  private int poles(int count, Optional<Integer> poles) {
    int asked = poles.orElse(count);
    if (asked < count || asked > POLES_MAX || (asked != count && count != 1)) {
      throw new IllegalArgumentException(
          sign
              + "poles: "
              + asked
              + " poles do not go with "
              + count
              + (count == 1 ? " magnet" : " magnets")
              + "; a pickup has as many poles as magnets, or one bar and up to "
              + POLES_MAX);
    }
    return asked;
  }
}
