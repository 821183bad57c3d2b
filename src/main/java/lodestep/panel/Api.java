package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.HandlerType;
import io.javalin.http.SameSite;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import lodestep.panel.Bench.Answer;
import lodestep.panel.Route.Kind;
import lodestep.port.Command;

/** What the page may ask, version 1: each way in, what it demands, what it answers. Any thread. */
final class Api {

  static final String ROOT = "/api/v1";

  /** Longer than a token holds: with a lapsed one a page can still stop. */
  private static final int COOKIE_SECONDS = 400 * 24 * 3600;

  private final Bench bench;
  private final Access access;
  private final Newest newest;
  private final Commands commands;
  private final ShelfApi shelf;
  private final GaugeApi gauge;
  private final VoiceApi voice;
  private final Metrics metrics;

  Api(Bench bench, Shelf shelf, GaugeShelf gauge, Access access, Shows shows, Newest newest) {
    this.bench = bench;
    this.access = access;
    this.commands = new Commands(shows, new Once());
    this.shelf = new ShelfApi(shelf, bench, commands);
    this.gauge = new GaugeApi(gauge, shelf, bench, commands);
    this.voice = new VoiceApi(shelf, bench, commands);
    this.metrics = new Metrics(bench);
    this.newest = newest;
  }

  /** Every way in but the page's own files. */
  List<Route> routes() {
    List<Route> routes = new ArrayList<>();
    routes.add(post("/pair", Kind.PAIR, this::pair));
    routes.add(post("/stop", Kind.STOP, this::stop));
    routes.add(get("/session", this::session));
    routes.add(get("/events", this::events));
    routes.add(get("/now", (context, who) -> Answers.json(context, newest.now())));
    routes.add(get("/bench", (context, who) -> Answers.json(context, newest.bench())));
    routes.add(get("/rig", (context, who) -> Answers.node(context, RigJson.of(bench))));
    routes.add(get("/plans", (context, who) -> Answers.node(context, PlanJson.of(bench.recent()))));
    routes.add(post("/plans/check", Kind.ASK, this::check));
    routes.add(commands.route("/batches", order -> bench.begin(order.plan())));
    routes.add(commands.route("/commands", this::tell));
    routes.add(commands.route("/hands", order -> bench.hand(order.oneOf("act", HandAct::valueOf))));
    routes.add(
        commands.route(
            "/gauge", order -> bench.gauge(order.oneOf("act", Bench.GaugeAct::valueOf))));
    routes.add(
        get("/metrics", (context, who) -> Answers.text(context, Metrics.TYPE, metrics.text())));
    routes.addAll(shelf.routes());
    routes.addAll(gauge.routes());
    routes.addAll(voice.routes());
    return routes;
  }

  static Route get(String path, Route.Body body) {
    return new Route(HandlerType.GET, ROOT + path, Kind.READ, body);
  }

  private static Route post(String path, Kind kind, Route.Body body) {
    return new Route(HandlerType.POST, ROOT + path, kind, body);
  }

  private void pair(Context context, Guard.Allowed nobody) {
    String token = access.pair(Order.read(context.bodyAsBytes()).text("code"));
    context.cookie(
        new Cookie(
            Guard.cookie(context), token, "/", COOKIE_SECONDS, false, true, null, SameSite.STRICT));
    Answers.node(context, session(access.pass(token).orElseThrow()));
  }

  /** Past every queue: the flag is set before anything is answered. */
  private void stop(Context context, Guard.Allowed who) {
    bench.stop();
    Answers.act(context, Answer.yes("the rig was asked to stop"));
  }

  private void session(Context context, Guard.Allowed who) {
    Answers.node(context, session(who.pass().orElseThrow()));
  }

  private ObjectNode session(Access.Pass pass) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("scope", pass.scope().word());
    node.put("proof", access.proof(pass));
    node.put("until", pass.untilEpochSeconds());
    return node;
  }

  private void events(Context context, Guard.Allowed who) throws IOException {
    context.contentType("text/event-stream; charset=utf-8");
    // The servlet's own stream: the one around it keeps what is flushed until the answer is whole.
    newest.writeTo(context.res().getOutputStream());
  }

  private void check(Context context, Guard.Allowed who) {
    Bench.PlanCheck check = bench.check(Order.read(context.bodyAsBytes()).plan());
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    all(node.putArray("errors"), check.errors());
    all(node.putArray("doubts"), check.doubts());
    all(node.putArray("rows"), check.rows());
    check.batch().ifPresent(batch -> node.put("magnets", batch.entries().size()));
    Answers.node(context, node);
  }

  private static void all(ArrayNode node, List<String> lines) {
    lines.forEach(node::add);
  }

  private Answer tell(Order order) {
    if (order.text("what").equals("resume")) {
      return bench.goOn();
    }
    Command command = order.oneOf("what", Command::valueOf);
    if (command == Command.STOP) {
      bench.stop();
      return Answer.yes("the rig was asked to stop");
    }
    return bench.tell(command);
  }
}
