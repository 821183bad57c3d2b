package lodestep.ledger;

import java.security.MessageDigest;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import lodestep.port.ChainEnd;
import lodestep.port.EventIndex;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.StoredEvent;
import org.jspecify.annotations.Nullable;

/**
 * Proves a ledger whole, or names the first event that is not as it was written. Takes the events
 * in the order they stand; one thread.
 *
 * <p>What it can tell: any event changed, deleted, inserted or moved without all later hashes being
 * made anew. What it cannot tell by itself: events cut off at the end, or a chain made anew by
 * someone who has the file. For that it needs an <em>anchor</em>: the end of the chain as it was
 * noted elsewhere earlier, for example on a certificate.
 */
public final class Proof implements Consumer<StoredEvent> {

  private static final String TWO_NOTES = "it was noted elsewhere with two hashes that differ";

  private static final String CREATED = EventCodec.kind(LedgerEvent.LedgerCreated.class);

  private final MessageDigest digest = Chain.digest();
  private final Map<Long, ChainEnd> anchors;
  private ChainEnd end;
  private long events;
  private @Nullable String kind;
  private Optional<PayloadForm> form = Optional.empty();
  private Optional<Result> failure = Optional.empty();

  /** What came out. */
  public sealed interface Result {

    /** All events are as they were written. */
    record Whole(long events, ChainEnd end) implements Result {}

    /**
     * The first event that is not.
     *
     * @param number the event; with events cut off, the first that is missing
     * @param what one sentence without its full stop: what is wrong with it
     */
    record Broken(long number, String what) implements Result {}

    /** One arm for each. */
    default <R> R match(Function<Whole, R> whole, Function<Broken, R> broken) {
      return this instanceof Whole w ? whole.apply(w) : broken.apply((Broken) this);
    }

    /** One line for a person. */
    default String words() {
      return match(
          whole ->
              String.format(
                  Locale.ROOT,
                  "whole: %d %s, newest hash %s",
                  whole.events(),
                  whole.events() == 1 ? "event" : "events",
                  whole.end().hash()),
          broken -> String.format("not whole: event %d: %s", broken.number(), broken.what()));
    }
  }

  private Proof(ChainEnd start, List<ChainEnd> anchors) {
    this.end = start;
    this.anchors = new HashMap<>();
    // Of two notes of one event that differ, one at least is not of this ledger.
    anchors.forEach(
        anchor -> {
          ChainEnd other = this.anchors.putIfAbsent(anchor.number(), anchor);
          if (other != null && !other.equals(anchor)) {
            failure = Optional.of(new Result.Broken(anchor.number(), TWO_NOTES));
          }
        });
  }

  /** A proof from the first event on; {@code anchors} may be empty. */
  public static Proof fromStart(List<ChainEnd> anchors) {
    return new Proof(ChainEnd.EMPTY, anchors);
  }

  /** A proof of the events after this one, which is taken as it is. */
  public static Proof after(ChainEnd start) {
    return after(start, List.of());
  }

  /** The same, of a part of a ledger whose other parts are proved beside it. */
  public static Proof after(ChainEnd start, List<ChainEnd> anchors) {
    return new Proof(start, anchors);
  }

  /** Proves all events that stand in the archive now; its errors are the archive's. */
  public static Result of(LedgerArchive archive, List<ChainEnd> anchors) {
    Proof proof = fromStart(anchors);
    // From the lowest number there can be: an event put in before the first is one too many.
    archive.forEach(Long.MIN_VALUE, archive.newest().number(), proof);
    return proof.result();
  }

  /** Number of the newest event that was noted elsewhere; 0 when none was. */
  public static long newestNoted(List<ChainEnd> anchors) {
    return anchors.stream().mapToLong(ChainEnd::number).max().orElse(0);
  }

  /** Takes the next event; after the first bad one the rest are not looked at. */
  @Override
  public void accept(StoredEvent event) {
    if (failure.isEmpty()) {
      failure = fault(event);
      end = event.end();
      events++;
    }
  }

  /** The first event that was not as it was written, if one was among those taken so far. */
  public Optional<Result.Broken> broken() {
    return failure.map(Result.Broken.class::cast);
  }

  /** What has come out so far. */
  public Result result() {
    return failure.or(this::cut).orElseGet(() -> new Result.Whole(events, end));
  }

  /** What has come out of a part that should end with this event. */
  public Result result(long last) {
    if (failure.isEmpty() && end.number() < last) {
      return new Result.Broken(end.number() + 1, "it is missing; events after it are there");
    }
    return failure.orElseGet(() -> new Result.Whole(events, end));
  }

  private Optional<Result> fault(StoredEvent event) {
    long expected = end.number() + 1;
    if (event.number() != expected) {
      return Optional.of(missing(event, expected));
    }
    boolean first = event.number() == 1;
    boolean reads = reads(event) && event.index().kind().equals(CREATED) == first;
    boolean follows = follows(event);
    Optional<ChainEnd> other =
        anchorAt(event.number()).filter(anchor -> !anchor.hash().equals(event.hash()));
    return reads && follows && other.isEmpty()
        ? Optional.empty()
        : slowly(event, follows, other.isPresent());
  }

  /** One digest for all events: making one takes longer than using it. */
  private boolean follows(StoredEvent event) {
    end.hash().bytes().feed(digest);
    event.payload().feed(digest);
    byte[] made = digest.digest();
    return event.hash().bytes().test(stored -> Arrays.equals(stored, made));
  }

  private Optional<Result> slowly(StoredEvent event, boolean follows, boolean otherNoted) {
    List<String> faults = new ArrayList<>();
    decoded(event, faults).ifPresent(entry -> compare(event, entry, faults));
    if (!follows) {
      faults.add(
          0,
          "its hash does not follow from the hash before it and its own bytes; this event or the"
              + " one before was changed");
    }
    if (otherNoted) {
      faults.add("its hash is not the one that was noted elsewhere");
    }
    return faults.stream().findFirst().map(what -> new Result.Broken(event.number(), what));
  }

  /** The quick way to the same answer as decoding and comparing; no says nothing yet. */
  private boolean reads(StoredEvent event) {
    if (!event.index().kind().equals(kind)) {
      kind = event.index().kind();
      form = PayloadForm.of(event.index().kind());
    }
    return form.isPresent()
        && event.payload().test(bytes -> form.get().surely(bytes, event.index()));
  }

  private static Result missing(StoredEvent event, long expected) {
    if (event.number() < 1) {
      return new Result.Broken(event.number(), "no event has such a number; it was put in");
    }
    return event.number() > expected
        ? new Result.Broken(expected, "it is missing; event " + event.number() + " stands there")
        : new Result.Broken(event.number(), "it stands again where event " + expected + " belongs");
  }

  private static Optional<LedgerEntry> decoded(StoredEvent event, List<String> faults) {
    try {
      return Optional.of(EventCodec.decode(event.payload()));
    } catch (IllegalArgumentException unreadable) {
      faults.add("its bytes cannot be read: " + unreadable.getMessage());
      return Optional.empty();
    }
  }

  private static void compare(StoredEvent event, LedgerEntry entry, List<String> faults) {
    if (entry.number() != event.number()) {
      faults.add("its bytes say it is event " + entry.number());
    } else if (!EventCodec.index(entry).equals(event.index())) {
      faults.add(
          "what stands beside its bytes ("
              + words(event.index())
              + ") is not what they say ("
              + words(EventCodec.index(entry))
              + ")");
    }
    if (entry.event() instanceof LedgerEvent.LedgerCreated != (event.number() == 1)) {
      faults.add("the event that creates a ledger is the first and no other");
    }
  }

  private static String words(EventIndex index) {
    return String.format(
        Locale.ROOT,
        "event %d, %s, magnet %d, at %s",
        index.number(),
        index.kind(),
        index.magnet(),
        Instant.ofEpochMilli(index.wallEpochMs()));
  }

  private Optional<ChainEnd> anchorAt(long number) {
    return anchors.isEmpty() ? Optional.empty() : Optional.ofNullable(anchors.get(number));
  }

  private Optional<Result> cut() {
    return cut(end, anchors.values());
  }

  /** What is missing after this end, when an event after it was noted elsewhere. */
  public static Optional<Result> cut(ChainEnd end, Collection<ChainEnd> anchors) {
    return anchors.stream()
        .filter(anchor -> anchor.number() > end.number())
        .max(Comparator.comparingLong(ChainEnd::number))
        .map(
            anchor ->
                new Result.Broken(
                    end.number() + 1,
                    "it is missing; the ledger ends before it, and event "
                        + anchor.number()
                        + " was noted elsewhere"));
  }
}
