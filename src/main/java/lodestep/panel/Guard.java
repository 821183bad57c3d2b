package lodestep.panel;

import io.javalin.http.Context;
import io.javalin.http.Handler;
import io.javalin.http.HandlerType;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Semaphore;
import lodestep.port.MonotonicClock;
import org.jspecify.annotations.Nullable;
import org.tinylog.Logger;

/**
 * Judges each request before anything is done for it: host, origin, token, proof, and how many come
 * at a time. Any thread.
 *
 * <p>A stop goes past rate and number: a page that has asked too much may stop all the same.
 */
final class Guard {

  /** In which header a page sends its token's proof: no foreign page may send it unasked. */
  static final String PROOF = "X-Lodestep-Proof";

  /** Requests worked on at the same time; the rest of the server's threads are left for stops. */
  private static final int AT_ONCE_MAX = 12;

  private static final int PAIRING_MAX = 2;

  /** The one that browsers leave out. */
  private static final int USUAL_PORT = 80;

  /**
   * Who asks.
   *
   * @param pass empty where no token is demanded
   */
  record Allowed(Optional<Access.Pass> pass) {}

  private final Access access;
  private final Rate rate;

  /** A page is a score of files, and several pages on one machine open together. */
  private static final int PAGES_BURST = 240;

  private static final int PAGES_PER_SECOND = 40;

  private final Rate pages;
  private final Semaphore atOnce = new Semaphore(AT_ONCE_MAX);

  /** Whoever is not paired yet cannot take the others' places. */
  private final Semaphore pairing = new Semaphore(PAIRING_MAX);

  private final Set<String> names;

  /**
   * @param names by which this server may be called, without port
   */
  Guard(Access access, MonotonicClock clock, Set<String> names) {
    this.access = access;
    this.rate = new Rate(clock);
    this.pages = new Rate(clock, PAGES_BURST, PAGES_PER_SECOND);
    this.names = Set.copyOf(names);
  }

  /** Cookies know no port: two rigs on one machine must not take each other's. */
  static String cookie(Context context) {
    return "lodestep-" + context.req().getLocalPort();
  }

  /** The route's answer behind all that it demands. */
  Handler guarding(Route route) {
    return context -> {
      Allowed allowed = judge(route, context);
      if (route.kind() == Route.Kind.STOP || isStream(route)) {
        route.body().answer(context, allowed);
        return;
      }
      Semaphore places = route.kind() == Route.Kind.PAIR ? pairing : atOnce;
      if (!places.tryAcquire()) {
        throw new Refused(503, "busy", "too much is asked at once; ask again");
      }
      try {
        route.body().answer(context, allowed);
        write(context);
      } finally {
        places.release();
      }
    };
  }

  /**
   * Writes the answer while its place is held: whoever asks and does not read holds one of these
   * places until the connection's time is over, and no thread that a stop may need.
   */
  private static void write(Context context) {
    InputStream answer = context.resultInputStream();
    if (answer == null) {
      return;
    }
    // Nothing is left that the server itself would write afterwards.
    context.result(InputStream.nullInputStream());
    try {
      context.res().setContentLength(answer.available());
      OutputStream out = context.outputStream();
      answer.transferTo(out);
      out.flush();
    } catch (IOException gone) {
      Logger.debug("whoever asked for {} has gone", context.path());
    }
  }

  /** A stream has a number of its own, which {@link Newest} keeps. */
  private static boolean isStream(Route route) {
    return route.path().endsWith("/events");
  }

  private Allowed judge(Route route, Context context) {
    requireHost(context);
    requireOrigin(context, !route.method().equals(HandlerType.GET));
    if (route.kind() == Route.Kind.PAGE) {
      requireRate(pages, context.ip());
      return new Allowed(Optional.empty());
    }
    if (route.kind() == Route.Kind.PAIR) {
      requireRate(rate, "address " + context.ip());
      return new Allowed(Optional.empty());
    }
    String token = context.cookie(cookie(context));
    if (route.kind() == Route.Kind.STOP) {
      Access.Pass pass = require(access.signedBefore(token));
      requireProof(pass, context);
      return new Allowed(Optional.of(pass));
    }
    Access.Pass pass = require(access.pass(token));
    requireRate(rate, pass.id());
    if (route.kind() != Route.Kind.READ) {
      requireProof(pass, context);
      if (pass.scope() != Access.Scope.PREPARE) {
        throw new Refused(403, "look only", "this device may only look; pair it to prepare work");
      }
    }
    return new Allowed(Optional.of(pass));
  }

  private void requireHost(Context context) {
    String host = context.header("Host");
    if (host == null || !isOurs(host, context)) {
      throw new Refused(421, "wrong host", "call the rig by the address that it shows");
    }
  }

  private void requireOrigin(Context context, boolean act) {
    String origin = context.header("Origin");
    boolean missing = origin == null;
    if ((missing && act) || (!missing && !isOurPage(origin, context))) {
      throw new Refused(403, "wrong origin", "this was asked by a page that is not the rig's");
    }
    String site = context.header("Sec-Fetch-Site");
    boolean foreign = site != null && !site.equals("same-origin") && !site.equals("none");
    if (foreign && act) {
      throw new Refused(403, "wrong origin", "this was asked by a page that is not the rig's");
    }
  }

  private boolean isOurs(String host, Context context) {
    int port = context.req().getLocalPort();
    String end = ":" + port;
    boolean named =
        host.endsWith(end) && names.contains(host.substring(0, host.length() - end.length()));
    return named || (port == USUAL_PORT && names.contains(host));
  }

  private boolean isOurPage(@Nullable String origin, Context context) {
    return origin != null
        && origin.startsWith("http://")
        && isOurs(origin.substring("http://".length()), context);
  }

  private static Access.Pass require(Optional<Access.Pass> pass) {
    return pass.orElseThrow(
        () -> new Refused(401, "no token", "pair this device by the code shown at the rig"));
  }

  private void requireProof(Access.Pass pass, Context context) {
    if (!access.isProof(pass, context.header(PROOF))) {
      throw new Refused(403, "no proof", "the page must send its token's proof; load it anew");
    }
  }

  private static void requireRate(Rate rate, String device) {
    if (!rate.take(device)) {
      throw new Refused(429, "too many", "too much is asked at once; wait a moment");
    }
  }
}
