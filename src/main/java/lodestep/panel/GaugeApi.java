package lodestep.panel;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lodestep.quantity.FluxDensity;

/** What may be asked of the gauge itself. Any thread. */
final class GaugeApi {

  private static final int TIMES_USUAL = 10;

  private final GaugeShelf gauge;
  private final Bench bench;
  private final Commands commands;

  GaugeApi(GaugeShelf gauge, Bench bench, Commands commands) {
    this.gauge = gauge;
    this.bench = bench;
    this.commands = commands;
  }

  List<Route> routes() {
    return List.of(
        Api.get(
            "/gauge/record",
            (context, who) -> Answers.node(context, GaugeJson.of(gauge, bench.rig()))),
        commands.route("/by-hand", understood(order -> gauge.byHand(order.plan()))),
        commands.route("/gauge/checks", understood(order -> gauge.check(order.text("reference")))),
        commands.route("/gauge/studies", understood(order -> gauge.study(placement(order)))));
  }

  /** What cannot be done is an answer and no fault of the request. */
  private static Function<Order, Bench.Answer> understood(Function<Order, Bench.Answer> act) {
    return order -> {
      try {
        return act.apply(order);
      } catch (IllegalArgumentException wrong) {
        return Bench.Answer.no(String.valueOf(wrong.getMessage()));
      }
    };
  }

  private static GaugeShelf.Placement placement(Order order) {
    String magnet = order.text("magnet");
    String tolerance = order.text("tolerance");
    long times = order.text("times").isEmpty() ? TIMES_USUAL : order.count("times");
    return new GaugeShelf.Placement(
        order.text("nest"),
        magnet.isEmpty() ? "the magnet" : magnet,
        (int) Math.min(Integer.MAX_VALUE, times),
        tolerance.isEmpty() ? Optional.empty() : Optional.of(FluxDensity.parse(tolerance)));
  }
}
