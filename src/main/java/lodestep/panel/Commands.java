package lodestep.panel;

import io.javalin.http.HandlerType;
import java.util.Optional;
import java.util.function.Function;
import lodestep.panel.Bench.Answer;

/** Acts: fresh, of the newest state, and each carried out once. Any thread. */
record Commands(Shows shows, Once once) {

  /** The way in for one kind of act. */
  Route route(String path, Function<Order, Answer> act) {
    return new Route(
        HandlerType.POST,
        Api.ROOT + path,
        Route.Kind.COMMAND,
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
          Answers.act(context, answer);
        });
  }
}
