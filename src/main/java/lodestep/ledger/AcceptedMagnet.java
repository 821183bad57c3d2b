package lodestep.ledger;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Consumer;
import lodestep.port.GaugeEvent.PointsJudged;
import lodestep.port.KeepingEvent.MagnetNoted;
import lodestep.port.KeepingEvent.MagnetReread;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.StockEvent.MagnetScrapped;

/**
 * A magnet whose newest verdict is that it was accepted. Any thread, immutable.
 *
 * @param magnet its number
 * @param knownBy number of the entry that tells its level: the verdict's, or that of {@code moved}
 * @param standOffMicroMetres from its face to the gauge's element when it was judged; 0 where that
 *     is not on record
 * @param moved the newest reading that showed it moved since its verdict: that is its level now
 * @param noted what has befallen it since it was read last: its level is not known
 * @param points its newest reading at several points since its verdict, where the figure that
 *     counts was not proven inside its tolerance
 */
public record AcceptedMagnet(
    long magnet,
    MagnetNamed identity,
    VerdictGiven verdict,
    long knownBy,
    long standOffMicroMetres,
    Optional<MagnetReread> moved,
    Optional<MagnetNoted> noted,
    Optional<PointsJudged> points) {

  private static final String ACCEPTED = "accepted";

  /** The finding of a reading that neither shows a move nor rules it out. */
  public static final String CANNOT_TELL = "cannot tell";

  /** The finding of one that shows a move. */
  public static final String MOVED = "moved";

  /**
   * Its reading stands just before its verdict, with no more than what was kept or told between.
   */
  private static final int READING_BEFORE_MAX = 8;

  /** One that nothing has befallen since its verdict. */
  public AcceptedMagnet(
      long magnet,
      MagnetNamed identity,
      VerdictGiven verdict,
      long knownBy,
      long standOffMicroMetres) {
    this(
        magnet,
        identity,
        verdict,
        knownBy,
        standOffMicroMetres,
        Optional.empty(),
        Optional.empty(),
        Optional.empty());
  }

  /** Whether this reading says what a magnet's level is now. */
  static boolean settles(MagnetReread reread) {
    return !reread.finding().equals(CANNOT_TELL);
  }

  /** Whether it can be counted on as accepted. */
  public boolean stands() {
    return noted.isEmpty() && points.isEmpty();
  }

  /** Its level, signed. */
  public long fieldMicroTesla() {
    return moved.map(MagnetReread::fieldMicroTesla).orElse(verdict.fieldMicroTesla());
  }

  /** Standard uncertainty of its level. */
  public long uncertaintyNanoTesla() {
    return moved.map(MagnetReread::uncertaintyNanoTesla).orElse(verdict.uncertaintyNanoTesla());
  }

  /** All there are, in the order they were named; errors are the archive's. */
  public static List<AcceptedMagnet> of(LedgerArchive archive) {
    Map<Long, MagnetNamed> named = new TreeMap<>();
    Map<Long, LedgerEntry> newest = new TreeMap<>();
    Corrections corrections = Corrections.of(archive);
    each(
        archive,
        MagnetNamed.class,
        entry ->
            named.put(
                entry.number(), corrections.now(entry.number(), (MagnetNamed) entry.event())));
    each(
        archive,
        VerdictGiven.class,
        entry -> newest.put(((VerdictGiven) entry.event()).magnet(), entry));
    each(
        archive,
        MagnetScrapped.class,
        entry -> newest.remove(((MagnetScrapped) entry.event()).magnet()));
    List<AcceptedMagnet> accepted = new ArrayList<>();
    named.forEach(
        (magnet, identity) -> {
          LedgerEntry entry = newest.get(magnet);
          if (entry != null
              && entry.event() instanceof VerdictGiven verdict
              && verdict.verdict().equals(ACCEPTED)) {
            long standOff = standOff(archive, magnet, entry.number());
            accepted.add(new AcceptedMagnet(magnet, identity, verdict, entry.number(), standOff));
          }
        });
    return since(archive, accepted);
  }

  private static long standOff(LedgerArchive archive, long magnet, long verdict) {
    long[] found = {0};
    archive.forEach(
        Math.max(1, verdict - READING_BEFORE_MAX),
        verdict - 1,
        stored -> {
          if (EventCodec.decode(stored).event() instanceof ReadingTaken read
              && read.magnet() == magnet) {
            found[0] = read.standOffMicroMetres();
          }
        });
    return found[0];
  }

  /** With what is on record of each after its verdict. */
  private static List<AcceptedMagnet> since(LedgerArchive archive, List<AcceptedMagnet> accepted) {
    Set<Long> befallen = new HashSet<>();
    each(archive, MagnetNoted.class, entry -> befallen.add(((MagnetNoted) entry.event()).magnet()));
    each(
        archive,
        MagnetReread.class,
        entry -> befallen.add(((MagnetReread) entry.event()).magnet()));
    each(
        archive,
        PointsJudged.class,
        entry -> befallen.add(((PointsJudged) entry.event()).magnet()));
    return accepted.stream()
        .map(
            magnet ->
                befallen.contains(magnet.magnet())
                    ? MagnetHistory.of(archive, magnet.magnet()).map(magnet::since).orElse(magnet)
                    : magnet)
        .toList();
  }

  private AcceptedMagnet since(MagnetHistory history) {
    long knownNow = knownBy;
    Optional<MagnetReread> movedSince = Optional.empty();
    for (MagnetHistory.Happening happening : history.happenings()) {
      if (happening.number() > knownBy
          && happening.what() instanceof MagnetHistory.What.Reread reread
          && settles(reread.event())) {
        boolean moves = reread.event().finding().equals(MOVED);
        movedSince = moves ? Optional.of(reread.event()) : Optional.empty();
        knownNow = moves ? happening.number() : knownBy;
      }
    }
    return new AcceptedMagnet(
        magnet,
        identity,
        verdict,
        knownNow,
        standOffMicroMetres,
        movedSince,
        history.toBeReadAgain(),
        history.points().filter(AcceptedMagnet::isOutside));
  }

  /** Held against nothing it is neither. */
  private static boolean isOutside(PointsJudged judged) {
    return judged.toleranceMicroTesla() > 0 && !judged.inside();
  }

  private static void each(
      LedgerArchive archive, Class<? extends LedgerEvent> kind, Consumer<LedgerEntry> taken) {
    archive.forEachOfKind(EventCodec.kind(kind), stored -> taken.accept(EventCodec.decode(stored)));
  }
}
