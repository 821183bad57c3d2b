package lodestep.panel;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Semaphore;
import java.util.function.Function;
import java.util.function.Supplier;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.Pickup;
import lodestep.paper.Entered;
import lodestep.paper.LotReport;
import lodestep.paper.Papers;
import lodestep.paper.ReturnReport;
import lodestep.paper.ReturnWork;
import lodestep.paper.Things;
import lodestep.paper.Things.Thing;

/**
 * What may be asked of magnets, sets, pickups, orders and lots, and of the paper made of them: each
 * way in by which nothing is changed. Any thread.
 */
final class ShelfApi {

  private static final int NAME_MAX = 80;

  /** More than a person prints together; a certificate has a line for each. */
  static final int MAGNETS_MAX = 120;

  /** Paper takes tenths of a second of a core each: the rest is the rig's. */
  private static final int PAPERS_AT_ONCE = 2;

  private static final String PDF = "application/pdf";
  private static final String CSV = "text/csv; charset=utf-8";

  private final Shelf shelf;
  private final Bench bench;
  private final ShelfActs acts;

  /** Certificates of this run: the file that is saved first, and again, is their first print. */
  private final Set<Long> madeOut = ConcurrentHashMap.newKeySet();

  private final Semaphore printing = new Semaphore(PAPERS_AT_ONCE);

  ShelfApi(Shelf shelf, Bench bench, Commands commands) {
    this.shelf = shelf;
    this.bench = bench;
    this.acts = new ShelfActs(shelf, bench, commands, madeOut::add);
  }

  List<Route> routes() {
    List<Route> routes = acts.routes();
    routes.add(Api.get("/things", (context, who) -> things(context)));
    routes.add(Api.get("/magnets/{magnet}", (context, who) -> magnet(context)));
    routes.add(Api.get("/magnets/{magnet}/csv", (context, who) -> csv(context)));
    routes.add(Api.get("/sets", (context, who) -> said(context, this::set)));
    routes.add(Api.get("/orders", (context, who) -> said(context, this::order)));
    routes.add(Api.get("/lots", (context, who) -> said(context, this::lot)));
    routes.add(Api.get("/pickups/{pickup}", (context, who) -> pickup(context)));
    routes.add(Api.get("/returns/{entry}", (context, who) -> returned(context)));
    routes.add(Api.get("/batches/{batch}/match", (context, who) -> match(context)));
    routes.add(Api.get("/certificates/{entry}/pdf", (context, who) -> certificate(context)));
    routes.add(Api.get("/returns/{entry}/pdf", (context, who) -> report(context)));
    routes.add(Api.get("/labels/pdf", (context, who) -> labels(context)));
    return routes;
  }

  /** A refusal of what lies below is one that there is no such thing. */
  private static <T> T found(Supplier<T> reading) {
    try {
      return reading.get();
    } catch (IllegalArgumentException unknown) {
      throw new Refused(404, "not on record", String.valueOf(unknown.getMessage()));
    }
  }

  private static long number(Context context, String parameter) {
    String written = context.pathParam(parameter);
    if (!written.matches("[1-9][0-9]{0,17}")) {
      throw new Refused(404, "not on record", "there is nothing with the number " + parameter);
    }
    return Long.parseLong(written);
  }

  private static String name(Context context, String parameter) {
    String words = Optional.ofNullable(context.queryParam(parameter)).orElse("");
    if (words.length() > NAME_MAX) {
      throw new Refused(400, "not understood", "a name has at most " + NAME_MAX + " characters");
    }
    return words;
  }

  private void said(Context context, Function<String, JsonNode> reading) {
    String wanted = name(context, "name");
    Answers.node(context, found(() -> reading.apply(wanted)));
  }

  private void things(Context context) {
    String words = name(context, "find");
    Answers.node(
        context,
        found(() -> shelf.read(things -> ThingsJson.found(things, bench.find(words), words))));
  }

  private MagnetHistory history(Context context) {
    return bench
        .history(number(context, "magnet"))
        .orElseThrow(() -> new Refused(404, "not on record", "no such magnet is on record"));
  }

  private void magnet(Context context) {
    Answers.node(context, MagnetJson.of(history(context)));
  }

  private void csv(Context context) {
    MagnetHistory history = history(context);
    Answers.file(
        context,
        Papers.fileName("history", history.identity().name()).replaceFirst("pdf$", "csv"),
        CSV,
        shelf.csv(history).getBytes(StandardCharsets.UTF_8));
  }

  private JsonNode set(String name) {
    return shelf.read(things -> ThingsJson.set(things, Papers.found(things, name)));
  }

  private JsonNode order(String name) {
    return shelf.read(things -> ThingsJson.order(Entered.found(things, name)));
  }

  private JsonNode lot(String name) {
    LotReport report = shelf.read(things -> things.lot(name));
    if (!report.isKnown()) {
      throw new IllegalArgumentException("no lot '" + name + "' is on record");
    }
    return ThingsJson.lot(report, shelf.book());
  }

  private void pickup(Context context) {
    long number = number(context, "pickup");
    Answers.node(
        context, found(() -> shelf.read(things -> PickupJson.of(things, pickup(things, number)))));
  }

  static Pickup pickup(Things things, long number) {
    return things.pickups().stream()
        .filter(one -> one.number() == number)
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("no such pickup is on record"));
  }

  private void match(Context context) {
    long batch = number(context, "batch");
    Answers.node(context, found(() -> MatchJson.of(shelf.match(batch))));
  }

  private void returned(Context context) {
    long entry = number(context, "entry");
    Answers.node(
        context,
        found(
            () ->
                shelf.read(
                    things ->
                        PickupJson.of(
                            entry,
                            things.wall(entry),
                            ReturnWork.again(things, entry, shelf.book())))));
  }

  private void certificate(Context context) {
    long entry = number(context, "entry");
    print(
        context,
        () -> {
          Papers.Printed printed = shelf.read(things -> shelf.papers().again(things, entry));
          return new Printout(
              Papers.fileName("certificate", printed.certificate().subject().name()),
              shelf.pdf(madeOut.contains(entry) ? printed.first().sheet() : printed.sheet()));
        });
  }

  private void report(Context context) {
    long entry = number(context, "entry");
    print(
        context,
        () ->
            shelf.read(
                things -> {
                  ReturnReport report = ReturnWork.again(things, entry, shelf.book());
                  Thing of = new Thing.OfPickup(report.of().pickup());
                  return new Printout(
                      Papers.fileName("return", of.name()),
                      shelf.pdf(
                          report.sheet(
                              things.entry(entry).orElseThrow().end(),
                              shelf.papers().subject(of))));
                }));
  }

  private void labels(Context context) {
    String name = name(context, "of");
    print(
        context,
        () ->
            shelf.read(
                things -> {
                  Thing thing = Papers.found(things, name);
                  requireFew(thing);
                  return new Printout(
                      Papers.fileName("labels", thing.name()),
                      shelf.pdf(shelf.papers().labels(things, List.of(name), Papers.ToldBy.RIG)));
                }));
  }

  static void requireFew(Thing thing) {
    if (Papers.magnets(thing).size() > MAGNETS_MAX) {
      throw new IllegalArgumentException(
          "more than "
              + MAGNETS_MAX
              + " magnets are printed by a command: lodestep certificate, lodestep labels");
    }
  }

  /** A file that is made. */
  private static final class Printout {
    private final String name;
    private final byte[] bytes;

    Printout(String name, byte[] bytes) {
      this.name = name;
      this.bytes = bytes;
    }
  }

  private void print(Context context, Supplier<Printout> making) {
    if (!printing.tryAcquire()) {
      throw new Refused(503, "busy", "other paper is being made; ask again");
    }
    try {
      Printout made = found(making);
      Answers.file(context, made.name, PDF, made.bytes);
    } finally {
      printing.release();
    }
  }
}
