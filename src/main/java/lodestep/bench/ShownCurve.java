package lodestep.bench;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.dial.MagnetCurve;
import lodestep.ledger.EventCodec;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;

/**
 * What one attempt on record has shown of a magnet's knock-down curve. Any thread, immutable.
 *
 * @param kind of magnet, and the nest it was read in
 * @param magnet its number
 */
public record ShownCurve(String kind, long magnet, long attempt, MagnetCurve curve) {

  /** All on record, in its order; errors are the archive's. */
  public static List<ShownCurve> all(LedgerArchive archive) {
    Map<String, ShownCurve> shown = new LinkedHashMap<>();
    archive.forEachOfKind(
        EventCodec.kind(LedgerEvent.CurvePoint.class),
        stored -> {
          if (EventCodec.decode(stored).event() instanceof LedgerEvent.CurvePoint point) {
            String attempt = point.magnet() + "." + point.attempt();
            Optional<MagnetCurve> before =
                Optional.ofNullable(shown.get(attempt)).map(ShownCurve::curve);
            MagnetCurve curve = MagnetCurve.with(before, point);
            shown.put(attempt, new ShownCurve(point.of(), point.magnet(), point.attempt(), curve));
          }
        });
    return new ArrayList<>(shown.values());
  }

  /** The newest of a magnet; empty if it was never charged and knocked down to a verdict. */
  public static Optional<ShownCurve> newestOf(List<ShownCurve> all, long magnet) {
    return all.stream().filter(one -> one.magnet() == magnet).reduce((first, second) -> second);
  }

  /** What magnets of its kind had shown before it. */
  public List<MagnetCurve> before(List<ShownCurve> all) {
    return all.subList(0, all.indexOf(this)).stream()
        .filter(one -> one.kind().equals(kind))
        .map(ShownCurve::curve)
        .toList();
  }
}
