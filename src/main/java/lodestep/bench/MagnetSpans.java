package lodestep.bench;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.dial.RecordedShape;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.BatchContinued;
import lodestep.port.LedgerEvent.BatchEnded;
import lodestep.port.LedgerEvent.BatchStarted;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.PersonAsked;
import lodestep.port.LedgerEvent.ProgramStarted;
import lodestep.port.LedgerEvent.Tripped;
import lodestep.port.LedgerEvent.VerdictGiven;

/**
 * How long the magnets of batches took, hands counted: from one verdict to the next. Any thread,
 * immutable.
 *
 * @param spans the oldest first
 */
public record MagnetSpans(List<Span> spans) {

  /** Nothing on record. */
  public static final MagnetSpans NONE = new MagnetSpans(List.of());

  /** So many entries back are read: some hundreds of magnets, whatever the record's size. */
  private static final long ENTRIES_MAX = 8_000;

  /** So many of a kind tell enough, and the newest tell best. */
  private static final int OF_A_KIND_MAX = 24;

  /** Longer by this factor than the middle one, somebody was away. Common practice, no source. */
  private static final double AWAY = 3;

  public MagnetSpans {
    spans = List.copyOf(spans);
  }

  /**
   * One magnet.
   *
   * @param seconds by the rig's own time, &gt; 0
   * @param batch number of its batch
   */
  public record Span(String alloy, String shape, String task, double seconds, long batch) {
    /** Whether the other is of the same alloy, shape and task. */
    boolean isLike(Span other) {
      return alloy.equals(other.alloy) && shape.equals(other.shape) && task.equals(other.task);
    }
  }

  /** A magnet that took so long. */
  public static Span span(Entry entry, double seconds, long batch) {
    PlanRow row = entry.prepared().row();
    return new Span(
        row.alloy().name(), RecordedShape.words(row.shape()), row.task().word(), seconds, batch);
  }

  /** By the newest entries of the record; its errors pass on. */
  public static MagnetSpans of(LedgerArchive archive) {
    Walk walk = new Walk();
    long newest = archive.newest().number();
    archive.forEach(
        Math.max(1, newest - ENTRIES_MAX), newest, stored -> walk.take(EventCodec.decode(stored)));
    return new MagnetSpans(walk.spans);
  }

  /** With one more. */
  public MagnetSpans with(Span span) {
    List<Span> more = new ArrayList<>(spans);
    more.add(span);
    return new MagnetSpans(more);
  }

  /** The newest that are like this one; those in which somebody was away are left out. */
  List<Span> like(Span one) {
    return usual(spans.stream().filter(one::isLike).toList());
  }

  /** The newest of any kind, likewise. */
  List<Span> any() {
    return usual(spans);
  }

  private static List<Span> usual(List<Span> all) {
    List<Span> newest = all.subList(Math.max(0, all.size() - OF_A_KIND_MAX), all.size());
    if (newest.isEmpty()) {
      return newest;
    }
    double middle =
        newest.stream().map(Span::seconds).sorted().skip(newest.size() / 2).findFirst().orElse(0.0);
    return newest.stream().filter(each -> each.seconds() <= AWAY * middle).toList();
  }

  /** Goes through the record; only what lies between two of its entries undisturbed is counted. */
  private static final class Walk {
    private final List<Span> spans = new ArrayList<>();
    private final Map<Long, MagnetNamed> named = new HashMap<>();
    private Optional<Long> fromNs = Optional.empty();

    void take(LedgerEntry entry) {
      LedgerEvent event = entry.event();
      if (event instanceof MagnetNamed magnet) {
        named.put(entry.number(), magnet);
      } else if (event instanceof BatchStarted || event instanceof BatchContinued) {
        fromNs = Optional.of(entry.atNs());
      } else if (event instanceof ProgramStarted
          || event instanceof Tripped
          || event instanceof BatchEnded
          || event instanceof PersonAsked) {
        fromNs = Optional.empty();
      } else if (event instanceof VerdictGiven verdict) {
        given(verdict, entry.atNs());
      }
    }

    private void given(VerdictGiven verdict, long atNs) {
      Optional<MagnetNamed> magnet =
          Optional.ofNullable(named.get(verdict.magnet())).filter(one -> one.batch() > 0);
      if (magnet.isPresent() && fromNs.isPresent() && atNs > fromNs.get()) {
        MagnetNamed one = magnet.get();
        double seconds = (atNs - fromNs.get()) * 1e-9;
        spans.add(new Span(one.alloy(), one.shape(), one.task(), seconds, one.batch()));
      }
      fromNs = magnet.map(any -> atNs);
    }
  }
}
