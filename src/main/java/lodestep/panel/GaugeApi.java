package lodestep.panel;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lodestep.port.LedgerException;
import lodestep.quantity.FluxDensity;

/** What may be asked of the gauge itself. Any thread. */
final class GaugeApi {

  private static final int TIMES_USUAL = 10;
  private static final int TIMES_CROSSED = 3;

  private final GaugeShelf gauge;
  private final Bench bench;
  private final Commands commands;
  private final PairsApi pairs;

  GaugeApi(GaugeShelf gauge, Shelf shelf, Bench bench, Commands commands) {
    this.gauge = gauge;
    this.bench = bench;
    this.commands = commands;
    this.pairs = new PairsApi(gauge, shelf, bench.rig());
  }

  List<Route> routes() {
    return List.of(
        Api.get("/gauge/record", (context, who) -> Answers.node(context, record())),
        commands.route("/gauge/typed", understood(pairs::typed)),
        commands.route("/gauge/relations", understood(pairs::relate)),
        commands.route("/by-hand", understood(order -> gauge.byHand(order.plan()))),
        commands.route("/gauge/checks", understood(order -> gauge.check(order.text("reference")))),
        commands.route("/gauge/studies", understood(this::study)));
  }

  /** What cannot be done is an answer and no fault of the request. */
  private static Function<Order, Bench.Answer> understood(Function<Order, Bench.Answer> act) {
    return order -> {
      try {
        return act.apply(order);
      } catch (IllegalArgumentException wrong) {
        return Bench.Answer.no(String.valueOf(wrong.getMessage()));
      } catch (LedgerException unwritten) {
        return Bench.Answer.no(unwritten.sentence());
      }
    };
  }

  private ObjectNode record() {
    ObjectNode node = GaugeJson.of(gauge, bench.rig());
    pairs.pairs(node.putArray("pairs"));
    return node;
  }

  private Bench.Answer study(Order order) {
    if (order.text("again").equals("on")) {
      return gauge.studyOn();
    }
    String magnet = order.text("magnet");
    String tolerance = order.text("tolerance");
    List<String> persons = names(order.text("persons"));
    boolean crossed = !order.text("magnets").isEmpty() || !persons.isEmpty();
    long usual = crossed ? TIMES_CROSSED : TIMES_USUAL;
    long times = order.text("times").isEmpty() ? usual : order.count("times");
    if (crossed && persons.isEmpty()) {
      throw new IllegalArgumentException("a crossed study needs the persons' names");
    }
    return gauge.study(
        new GaugeShelf.Study(
            order.text("nest"),
            crossed
                ? names(order.text("magnets"))
                : List.of(magnet.isEmpty() ? "the magnet" : magnet),
            persons,
            (int) Math.min(Integer.MAX_VALUE, times),
            tolerance.isEmpty() ? Optional.empty() : Optional.of(FluxDensity.parse(tolerance))));
  }

  /** Names with commas between. */
  private static List<String> names(String text) {
    return Stream.of(text.split(",", -1)).map(String::strip).filter(n -> !n.isEmpty()).toList();
  }
}
