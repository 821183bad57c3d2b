package lodestep.panel;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import io.javalin.Javalin;
import io.javalin.compression.CompressionStrategy;
import io.javalin.config.JavalinConfig;
import io.javalin.http.Context;
import io.javalin.http.HandlerType;
import io.javalin.http.HttpResponseException;
import io.javalin.util.JavalinException;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import lodestep.port.MonotonicClock;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.util.thread.QueuedThreadPool;
import org.tinylog.Logger;

/**
 * The server of the page. It has threads of its own and none of the control loop's; what it shows
 * it looks up, and what is asked goes through the loop's own bounded mailbox. Any thread.
 *
 * <p>Threads: each open page holds one ({@link Newest#READERS_MAX}), a dozen work and write their
 * answers, and the rest is for stops, also while somebody asks for files and does not read them.
 */
public final class PanelServer implements AutoCloseable {

  /** Twenty looks a second: smooth to the eye, a tenth of the loop's rate. */
  private static final long LOOK_MS = 50;

  private static final int THREADS_MAX = 80;
  private static final long BODY_BYTES_MAX = 64 * 1024;
  private static final int HEADER_BYTES_MAX = 8 * 1024;

  /** A connection on which nothing moves for so long is closed, also one that reads nothing. */
  private static final long IDLE_MS = 10_000;

  /** Nothing but the page's own files, no frame, nothing inline. */
  private static final String POLICY =
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self';"
          + " base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

  /**
   * Where it listens.
   *
   * @param address of the interface; loopback unless a person opened the network
   * @param port 0 takes a free one
   * @param names by which it may be called besides, without port
   */
  public record Place(String address, int port, List<String> names) {
    /** The names are kept as they are. */
    public Place {
      names = List.copyOf(names);
    }
  }

  private final Newest newest;
  private final ScheduledExecutorService looking;
  private final ScheduledFuture<?> looks;
  private final Javalin javalin;

  private PanelServer(
      Newest newest, ScheduledExecutorService looking, ScheduledFuture<?> looks, Javalin javalin) {
    this.newest = newest;
    this.looking = looking;
    this.looks = looks;
    this.javalin = javalin;
  }

  /**
   * Starts it; takes a second or two.
   *
   * @throws java.io.IOException when the port is taken or the address is not this machine's; its
   *     message is a sentence for a person
   */
  public static PanelServer start(
      Bench bench, Shelf shelf, GaugeShelf gauge, Access access, MonotonicClock clock, Place place)
      throws IOException {
    Newest newest = new Newest();
    Shows shows = new Shows(bench, clock, newest);
    Api api = new Api(bench, shelf, gauge, access, shows, newest);
    Guard guard = new Guard(access, clock, names(place));
    List<Route> routes = new ArrayList<>(api.routes());
    PageFile.ALL.forEach(file -> routes.add(route(file)));
    Javalin javalin = Javalin.create(config -> configure(config, place, guard, routes));
    ScheduledExecutorService looking =
        Executors.newSingleThreadScheduledExecutor(PanelServer::daemon);
    lookAt(shows);
    ScheduledFuture<?> looks =
        looking.scheduleWithFixedDelay(
            () -> lookAt(shows), LOOK_MS, LOOK_MS, TimeUnit.MILLISECONDS);
    PanelServer server = new PanelServer(newest, looking, looks, javalin);
    try {
      javalin.start();
    } catch (JavalinException | IllegalStateException refused) {
      server.close();
      throw new IOException(
          "the page cannot be served at "
              + place.address()
              + ", port "
              + place.port()
              + "; another program has it, or it is not this machine's: choose another with --port",
          refused);
    }
    return server;
  }

  private static Thread daemon(Runnable look) {
    Thread thread = new Thread(look, "panel-look");
    thread.setDaemon(true);
    return thread;
  }

  /** One that fails leaves the last one standing, which the page then calls old. */
  private static void lookAt(Shows shows) {
    try {
      shows.look();
    } catch (RuntimeException failed) {
      Logger.error(failed, "the page could not look at the rig");
    }
  }

  private static Set<String> names(Place place) {
    Set<String> names = new LinkedHashSet<>(place.names());
    names.addAll(List.of("127.0.0.1", "localhost", "[::1]"));
    return names;
  }

  private static Route route(PageFile file) {
    byte[] bytes = file.bytes();
    return new Route(
        HandlerType.GET,
        file.path(),
        Route.Kind.PAGE,
        (context, nobody) -> context.contentType(file.type()).result(bytes));
  }

  private static void configure(
      JavalinConfig config, Place place, Guard guard, List<Route> routes) {
    config.startup.showJavalinBanner = false;
    config.startup.showOldJavalinVersionWarning = false;
    config.startup.startupWatcherEnabled = false;
    config.http.maxRequestSize = BODY_BYTES_MAX;
    config.http.generateEtags = false;
    config.http.compressionStrategy = CompressionStrategy.NONE;
    config.jetty.threadPool = new QueuedThreadPool(THREADS_MAX, 8);
    config.jetty.modifyHttpConfiguration(PanelServer::limits);
    config.jetty.addConnector(
        (server, http) -> {
          ServerConnector connector =
              new ServerConnector(server, 1, 1, new HttpConnectionFactory(http));
          connector.setHost(place.address());
          connector.setPort(place.port());
          connector.setIdleTimeout(IDLE_MS);
          return connector;
        });
    config.routes.before(PanelServer::headers);
    for (Route route : routes) {
      config.routes.addHttpHandler(route.method(), route.path(), guard.guarding(route));
    }
    config.routes.exception(Refused.class, PanelServer::refuse);
    config.routes.exception(HttpResponseException.class, PanelServer::refuseAsServer);
    config.routes.exception(RuntimeException.class, PanelServer::fail);
  }

  private static void limits(HttpConfiguration http) {
    http.setSendServerVersion(false);
    http.setRequestHeaderSize(HEADER_BYTES_MAX);
    http.setIdleTimeout(IDLE_MS);
  }

  private static void headers(Context context) {
    context.header("Content-Security-Policy", POLICY);
    context.header("X-Content-Type-Options", "nosniff");
    context.header("Referrer-Policy", "no-referrer");
    context.header("Cross-Origin-Opener-Policy", "same-origin");
    context.header("Cross-Origin-Resource-Policy", "same-origin");
    context.header("Cache-Control", "no-store");
  }

  private static void refuse(Refused refused, Context context) {
    say(context, refused.status(), refused.what(), refused.sentence());
  }

  private static void refuseAsServer(HttpResponseException refused, Context context) {
    say(context, refused.getStatus(), "not served", "this cannot be asked here");
  }

  private static void fail(RuntimeException thrown, Context context) {
    Logger.error(thrown, "the page's server found an error in itself at {}", context.path());
    say(context, 500, "own fault", "the program found an error in itself; it is in its diary");
  }

  private static void say(Context context, int status, String what, String sentence) {
    context
        .status(status)
        .contentType("application/json")
        .result(
            JsonNodeFactory.instance
                .objectNode()
                .put("refused", what)
                .put("sentence", sentence)
                .toString());
  }

  /** The port it listens at. */
  public int port() {
    return javalin.port();
  }

  /** How many pages are open. */
  public int readers() {
    return newest.open();
  }

  /** Every way in that the server itself knows, as method and path; for whoever tries them all. */
  public List<String> waysIn() {
    return javalin.unsafe.internalRouter.allHttpHandlers().stream()
        .map(handler -> handler.endpoint.method + " " + handler.endpoint.path)
        .toList();
  }

  @Override
  public void close() {
    newest.close();
    boolean ended = looks.cancel(false);
    if (!ended) {
      Logger.warn("the page had ceased to look at the rig");
    }
    looking.shutdown();
    javalin.stop();
  }
}
