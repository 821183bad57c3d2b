package lodestep.panel;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.LongConsumer;
import lodestep.bench.PoleWork;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.Pickup;
import lodestep.panel.Bench.Answer;
import lodestep.paper.Certificate;
import lodestep.paper.Entered;
import lodestep.paper.LotSample;
import lodestep.paper.Papers;
import lodestep.paper.ReturnCase;
import lodestep.paper.ReturnWork;
import lodestep.paper.Things;
import lodestep.paper.Things.Thing;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.port.StockEvent.LotReceived;
import lodestep.port.StockEvent.OrderTaken;
import lodestep.port.StockEvent.PickupBuilt;
import lodestep.quantity.FieldStrength;

/** What may be put on record of magnets, pickups, orders and lots. Any thread. */
final class ShelfActs {

  private static final Entered ENTERED = new Entered("");

  private final Shelf shelf;
  private final Bench bench;
  private final Commands commands;
  private final LongConsumer madeOut;

  /**
   * @param madeOut is told the entry of each certificate that is made out
   */
  ShelfActs(Shelf shelf, Bench bench, Commands commands, LongConsumer madeOut) {
    this.madeOut = madeOut;
    this.shelf = shelf;
    this.bench = bench;
    this.commands = commands;
  }

  List<Route> routes() {
    List<Route> routes = new ArrayList<>();
    routes.add(act("/lots", this::lot));
    routes.add(act("/lots/samples", this::sample));
    routes.add(act("/orders", this::order));
    routes.add(act("/handovers", this::handOver));
    routes.add(act("/pickups", this::build));
    routes.add(act("/scraps", this::scrap));
    MendActs mends = new MendActs(shelf);
    routes.add(act("/notes", mends::note));
    routes.add(act("/corrections", mends::correct));
    routes.add(act("/certificates", this::certificate));
    routes.add(act("/readings", this::readPoles));
    routes.add(act("/returns", this::judge));
    return routes;
  }

  private Route act(String path, Function<Order, Answer> act) {
    return commands.route(
        path,
        order -> {
          try {
            return act.apply(order);
          } catch (IllegalArgumentException refused) {
            return Answer.no(String.valueOf(refused.getMessage()));
          } catch (LedgerException unwritten) {
            return Answer.no(unwritten.sentence());
          }
        });
  }

  private Answer kept(LedgerEvent event, String sentence) {
    long entry = shelf.keep(event);
    return Answer.kept(sentence + ", entry " + entry, entry);
  }

  private Answer lot(Order order) {
    LotReceived in =
        ENTERED.lot(
            new LotReceived(
                order.text("lot"),
                order.text("supplier"),
                order.text("alloy"),
                order.count("quantity"),
                order.text("said")),
            shelf.book());
    return kept(in, "lot " + in.lot() + " is on record");
  }

  /** Some of a lot charged in full and read: a batch that is begun like any other. */
  private Answer sample(Order order) {
    LotSample sample = shelf.sample(order.text("lot"));
    PlanForm.Row row =
        new PlanForm.Row(
            sample.name(),
            "",
            "",
            sample.received().alloy(),
            order.text("shape"),
            order.text("size"),
            order.text("nest"),
            order.text("poleUp"),
            LotSample.TARGET,
            "",
            order.text("count"),
            sample.received().lot());
    PlanForm form = new PlanForm(sample.name(), List.of(row));
    List<String> errors = bench.check(form).errors();
    if (!errors.isEmpty()) {
      return Answer.no(errors.get(0).replaceFirst("^row 1, ", ""));
    }
    return bench.begin(form);
  }

  private Answer order(Order order) {
    OrderTaken taken =
        ENTERED.order(
            new OrderTaken(
                order.text("name"),
                order.text("customer"),
                order.text("wanted"),
                order.text("due")));
    return kept(taken, "order " + taken.name() + " is on record");
  }

  private Answer handOver(Order order) {
    String name = order.text("name");
    return kept(
        shelf.read(things -> ENTERED.handedOver(Entered.found(things, name), order.text("said"))),
        "order " + name + " is handed over");
  }

  private Answer build(Order order) {
    PickupBuilt built = shelf.read(things -> built(things, order));
    return kept(built, "pickup " + built.name() + " is on record");
  }

  private static PickupBuilt built(Things things, Order order) {
    Thing thing = Papers.found(things, order.text("of"));
    long poles = order.count("poles");
    return ENTERED.pickup(
        things,
        new PickupBuilt(
            order.text("name"),
            order.text("order"),
            1,
            Papers.magnets(thing),
            order.text("winding"),
            order.text("said")),
        poles > 0 ? Optional.of((int) Math.min(poles, Integer.MAX_VALUE)) : Optional.empty());
  }

  private Answer scrap(Order order) {
    long magnet = order.whole("magnet");
    if (bench.look().job().magnet() == magnet) {
      return Answer.no("it is at work; wait for its verdict");
    }
    MagnetHistory history =
        shelf.read(
            things ->
                things
                    .history(magnet)
                    .orElseThrow(
                        () -> new IllegalArgumentException("no such magnet is on record")));
    return kept(
        ENTERED.scrapped(magnet, order.text("why")), history.identity().name() + " is scrapped");
  }

  private Answer certificate(Order order) {
    Certificate made =
        shelf.read(
            things -> {
              Thing thing = Papers.found(things, order.text("of"));
              ShelfApi.requireFew(thing);
              return shelf.papers().certificate(things, thing, Papers.ToldBy.RIG);
            });
    Answer kept =
        kept(made.entry(), "the certificate of " + made.subject().name() + " is made out");
    madeOut.accept(kept.entry());
    return kept;
  }

  private Answer readPoles(Order order) {
    String field = order.text("virtualField");
    return shelf.readPoles(
        new Shelf.PoleOrder(
            order.whole("pickup"),
            order.text("as").equals("returned"),
            written(order.text("seat")),
            written(order.text("spacer")),
            field.isEmpty() ? 0 : FieldStrength.parse(field).amperesPerMetre()));
  }

  private static Optional<String> written(String text) {
    return text.isEmpty() ? Optional.empty() : Optional.of(text);
  }

  private Answer judge(Order order) {
    long number = order.whole("pickup");
    LedgerEvent judged =
        shelf.read(
            things -> {
              Pickup pickup = ShelfApi.pickup(things, number);
              Pickup.Round round =
                  ReturnWork.toJudge(pickup)
                      .orElseThrow(
                          () ->
                              new IllegalArgumentException(
                                  "all its pole tops are to be read first, "
                                      + PoleWork.AS_RETURNED));
              return ReturnWork.of(things, pickup)
                  .report(things, round.round(), ReturnCase.COUNTS, shelf.book())
                  .entry();
            });
    return kept(judged, "the return check is on record");
  }
}
