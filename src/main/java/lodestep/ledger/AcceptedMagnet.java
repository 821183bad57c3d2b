package lodestep.ledger;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Consumer;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.StockEvent.MagnetScrapped;

/**
 * A magnet whose newest verdict is that it was accepted. Any thread, immutable.
 *
 * @param magnet its number
 */
public record AcceptedMagnet(long magnet, MagnetNamed identity, VerdictGiven verdict) {

  private static final String ACCEPTED = "accepted";

  /** All there are, in the order they were named; errors are the archive's. */
  public static List<AcceptedMagnet> of(LedgerArchive archive) {
    Map<Long, MagnetNamed> named = new TreeMap<>();
    Map<Long, VerdictGiven> newest = new TreeMap<>();
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
        entry -> {
          VerdictGiven verdict = (VerdictGiven) entry.event();
          newest.put(verdict.magnet(), verdict);
        });
    each(
        archive,
        MagnetScrapped.class,
        entry -> newest.remove(((MagnetScrapped) entry.event()).magnet()));
    List<AcceptedMagnet> accepted = new ArrayList<>();
    named.forEach(
        (magnet, identity) -> {
          VerdictGiven verdict = newest.get(magnet);
          if (verdict != null && verdict.verdict().equals(ACCEPTED)) {
            accepted.add(new AcceptedMagnet(magnet, identity, verdict));
          }
        });
    return List.copyOf(accepted);
  }

  private static void each(
      LedgerArchive archive, Class<? extends LedgerEvent> kind, Consumer<LedgerEntry> taken) {
    archive.forEachOfKind(EventCodec.kind(kind), stored -> taken.accept(EventCodec.decode(stored)));
  }
}
