package lodestep.panel;

import com.fasterxml.jackson.databind.JsonNode;
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
import java.util.Optional;
import java.util.function.Function;
import lodestep.ledger.MagnetHistory;
import lodestep.panel.Bench.Answer;
import lodestep.panel.Route.Kind;
import lodestep.port.Command;

/** What the page may ask, version 1: each way in, what it demands, what it answers. Any thread. */
final class Api {

  static final String ROOT = "/api/v1";

  /** Longer than a token holds: with a lapsed one a page can still stop. */
  private static final int COOKIE_SECONDS = 400 * 24 * 3600;

  private static final String JSON = "application/json";

  private final Bench bench;
  private final Access access;
  private final Shows shows;
  private final Newest newest;
  private final Once once = new Once();

  Api(Bench bench, Access access, Shows shows, Newest newest) {
    this.bench = bench;
    this.access = access;
    this.shows = shows;
    this.newest = newest;
  }

  /** Every way in but the page's own files. */
  List<Route> routes() {
    List<Route> routes = new ArrayList<>();
    routes.add(post("/pair", Kind.PAIR, this::pair));
    routes.add(post("/stop", Kind.STOP, this::stop));
    routes.add(get("/session", this::session));
    routes.add(get("/events", this::events));
    routes.add(get("/now", (context, who) -> answer(context, newest.now())));
    routes.add(get("/bench", (context, who) -> answer(context, newest.bench())));
    routes.add(get("/rig", (context, who) -> answer(context, RigJson.of(bench))));
    routes.add(get("/plans", (context, who) -> answer(context, PlanJson.of(bench.recent()))));
    routes.add(get("/magnets", this::find));
    routes.add(get("/magnets/{magnet}", this::magnet));
    routes.add(post("/plans/check", Kind.ASK, this::check));
    routes.add(command("/batches", order -> bench.begin(order.plan())));
    routes.add(command("/commands", this::tell));
    routes.add(command("/hands", order -> bench.hand(order.oneOf("act", HandAct::valueOf))));
    routes.add(
        command("/gauge", order -> bench.gauge(order.oneOf("act", Bench.GaugeAct::valueOf))));
    return routes;
  }

  private static Route get(String path, Route.Body body) {
    return new Route(HandlerType.GET, ROOT + path, Kind.READ, body);
  }

  private static Route post(String path, Kind kind, Route.Body body) {
    return new Route(HandlerType.POST, ROOT + path, kind, body);
  }

  /** An act: fresh, of the newest state, and carried out once. */
  private Route command(String path, Function<Order, Answer> act) {
    return post(
        path,
        Kind.COMMAND,
        (context, who) -> {
          Order order = Order.read(context.bodyAsBytes());
          String key = order.key();
          order.requireFresh(shows.nowMs(), shows.version());
          Optional<Answer> before = once.taken(key);
          if (before.isPresent()) {
            throw new Refused(409, "doubled", "this was asked before: " + before.get().sentence());
          }
          Answer answer = act.apply(order);
          once.answered(key, answer);
          answer(context, answer);
        });
  }

  private static void answer(Context context, Answer answer) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("done", answer.done());
    node.put("sentence", answer.sentence());
    context.status(answer.done() ? 200 : 422);
    answer(context, node);
  }

  private static void answer(Context context, JsonNode node) {
    answer(context, node.toString());
  }

  private static void answer(Context context, String json) {
    context.contentType(JSON).result(json);
  }

  private void pair(Context context, Guard.Allowed nobody) {
    String token = access.pair(Order.read(context.bodyAsBytes()).text("code"));
    context.cookie(
        new Cookie(
            Guard.cookie(context), token, "/", COOKIE_SECONDS, false, true, null, SameSite.STRICT));
    answer(context, session(access.pass(token).orElseThrow()));
  }

  /** Past every queue: the flag is set before anything is answered. */
  private void stop(Context context, Guard.Allowed who) {
    bench.stop();
    answer(context, Answer.yes("the rig was asked to stop"));
  }

  private void session(Context context, Guard.Allowed who) {
    answer(context, session(who.pass().orElseThrow()));
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

  private void find(Context context, Guard.Allowed who) {
    String words = Optional.ofNullable(context.queryParam("find")).orElse("");
    if (words.length() > 80) {
      throw new Refused(400, "not understood", "a name has at most 80 characters");
    }
    answer(context, MagnetJson.of(bench.find(words)));
  }

  private void magnet(Context context, Guard.Allowed who) {
    String written = context.pathParam("magnet");
    Optional<MagnetHistory> history =
        written.matches("[1-9][0-9]{0,17}")
            ? bench.history(Long.parseLong(written))
            : Optional.empty();
    answer(
        context,
        MagnetJson.of(
            history.orElseThrow(
                () -> new Refused(404, "not on record", "no such magnet is on record"))));
  }

  private void check(Context context, Guard.Allowed who) {
    Bench.PlanCheck check = bench.check(Order.read(context.bodyAsBytes()).plan());
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    all(node.putArray("errors"), check.errors());
    all(node.putArray("doubts"), check.doubts());
    all(node.putArray("rows"), check.rows());
    check.batch().ifPresent(batch -> node.put("magnets", batch.entries().size()));
    answer(context, node);
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
