package lodestep.panel;

import java.util.List;
import java.util.Locale;
import java.util.function.Function;
import lodestep.panel.Bench.Answer;
import lodestep.paper.Entered;
import lodestep.paper.Papers;
import lodestep.paper.Things;
import lodestep.port.KeepingEvent.MagnetNoted;
import lodestep.port.LedgerEvent;

/** What befell a magnet after its verdict, and what was written down wrongly of it. Any thread. */
final class MendActs {

  private static final List<String> NOTED = List.of("heat", "drop", "knock");
  private static final List<String> FIELDS = List.of("name", "set", "lot", "alloy");
  private static final Entered ENTERED = new Entered("");

  private final Shelf shelf;

  MendActs(Shelf shelf) {
    this.shelf = shelf;
  }

  /** A magnet that was heated, dropped or knocked counts as to be read again. */
  Answer note(Order order) {
    long magnet = order.whole("magnet");
    String what = order.text("what").toLowerCase(Locale.ROOT);
    if (!NOTED.contains(what)) {
      throw new IllegalArgumentException("say what it was: heat, drop or knock");
    }
    String name = shelf.read(things -> named(things, magnet));
    String said = order.text("said").replaceAll("\\s+", " ");
    long entry = shelf.keep(new MagnetNoted(magnet, what, said));
    return Answer.kept(name + " counts as to be read again, entry " + entry, entry);
  }

  /** What was written stays, and reads as corrected. */
  Answer correct(Order order) {
    long magnet = order.whole("magnet");
    String field = order.text("field");
    String value = Entered.name(order.text("value"));
    String why = order.text("why");
    Function<Things, LedgerEvent> corrected =
        field.equals("place")
            ? things -> ENTERED.exchanged(magnet, other(things, value), why)
            : things -> ENTERED.corrected(things, magnet, known(field, value), value, why);
    long entry = shelf.keep(shelf.read(corrected));
    return Answer.kept("corrected, entry " + entry, entry);
  }

  private String known(String field, String value) {
    if (!FIELDS.contains(field)) {
      throw new IllegalArgumentException("say what to correct: name, set, lot, alloy or place");
    }
    if (field.equals("alloy")) {
      ENTERED.requireAlloy(shelf.book(), value);
    }
    return field;
  }

  private static String named(Things things, long magnet) {
    return things
        .history(magnet)
        .orElseThrow(() -> new IllegalArgumentException("no such magnet is on record"))
        .identity()
        .name();
  }

  private static long other(Things things, String name) {
    return things
        .magnet(name)
        .filter(Things.Thing.OfMagnet.class::isInstance)
        .map(Things.Thing.OfMagnet.class::cast)
        .orElseThrow(() -> Papers.unknown(things, name))
        .magnet();
  }
}
