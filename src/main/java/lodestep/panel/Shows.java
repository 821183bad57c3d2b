package lodestep.panel;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import lodestep.bench.BatchJob;
import lodestep.bench.Guided;
import lodestep.port.Job;
import lodestep.port.MonotonicClock;

/**
 * Looks at the rig at a steady pace and shows what it sees, once for all readers. Counts the
 * versions of the state that a command must have seen, and the age of what is said. {@link #look}
 * belongs to one thread; what it shows is for any.
 */
final class Shows {

  /** Everything by which a person decides: when it changes, an older decision is void. */
  private record Key(
      Phase phase, long batch, String magnet, long attempts, int trip, long open, String hands) {}

  private final Bench bench;
  private final MonotonicClock clock;
  private final Newest newest;
  private final long fromNs;
  private final Map<Integer, Long> sinceMs = new HashMap<>();
  private final Map<Integer, Boolean> presentBefore = new HashMap<>();
  private Optional<Key> keyBefore = Optional.empty();
  private Optional<ObjectNode> lastCurve = Optional.empty();
  private long curveOfBatch;
  private long loopNs;
  private long loopMovedAtMs;
  private final BatchClock batchClock = new BatchClock();
  private long versions;
  private volatile long version;

  Shows(Bench bench, MonotonicClock clock, Newest newest) {
    this.bench = bench;
    this.clock = clock;
    this.newest = newest;
    this.fromNs = clock.nowNs();
  }

  /** The server's own time in milliseconds since it began. */
  long nowMs() {
    return (clock.nowNs() - fromNs) / 1_000_000L;
  }

  /** The version of the state that was shown last. */
  long version() {
    return version;
  }

  /** Looks once, and shows it. */
  void look() {
    Look look = bench.look();
    long atMs = nowMs();
    count(look);
    age(look, atMs);
    if (look.view().nowNs() != loopNs) {
      loopNs = look.view().nowNs();
      loopMovedAtMs = atMs;
    }
    ObjectNode now = NowJson.of(look, bench.rig(), atMs, version, atMs - loopMovedAtMs);
    batchClock
        .left(look, bench.known())
        .ifPresent(left -> NowJson.left(now.putObject("left"), left, bench.speed()));
    ObjectNode seldom = BenchJson.of(look, bench.leftOpen(), sinceMs);
    keepCurve(look, seldom);
    newest.show(now.toString(), seldom.toString());
  }

  /** The curve of the magnet before stands until the next one is begun, or the batch is gone. */
  private void keepCurve(Look look, ObjectNode seldom) {
    long batch = look.job() instanceof BatchJob job ? job.batch().number() : 0;
    if (seldom.get("curve") instanceof ObjectNode curve) {
      lastCurve = Optional.of(curve);
      curveOfBatch = batch;
    } else if (batch == 0 || batch != curveOfBatch) {
      lastCurve = Optional.empty();
    } else {
      lastCurve.ifPresent(curve -> seldom.set("curve", curve));
    }
  }

  private void count(Look look) {
    Optional<BatchJob> job =
        look.job() instanceof BatchJob batch ? Optional.of(batch) : Optional.empty();
    Key key =
        new Key(
            Phase.of(look),
            job.map(batch -> batch.batch().number()).orElse(0L),
            job.flatMap(batch -> batch.batch().next()).map(next -> next.name()).orElse(""),
            job.flatMap(batch -> batch.batch().next()).map(next -> next.attempts()).orElse(0L),
            look.view().trip().map(trip -> trip.cause().code()).orElse(0),
            job.map(batch -> batch.batch().open()).orElse(0L),
            job.map(batch -> batch.cue().ask().name()).orElseGet(() -> guided(look.job())));
    if (!keyBefore.equals(Optional.of(key))) {
      keyBefore = Optional.of(key);
      versions++;
      version = versions;
    }
  }

  /** What guided work asks for: each new sentence is another state. */
  private static String guided(Job job) {
    return job instanceof Guided guided ? guided.cue().ask() + guided.sentence() : "";
  }

  private void age(Look look, long atMs) {
    for (Bench.Saying saying : look.says()) {
      Boolean before = presentBefore.put(saying.cause().code(), saying.present());
      if (before == null || before != saying.present()) {
        sinceMs.put(saying.cause().code(), atMs);
      }
    }
  }
}
