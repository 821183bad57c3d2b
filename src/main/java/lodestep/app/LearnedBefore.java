package lodestep.app;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import lodestep.dial.GapCurve;
import lodestep.dial.MagnetCurve;
import lodestep.dial.RigMemory;
import lodestep.ledger.EventCodec;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;

/** What earlier runs have taught of this rig, read from its ledger. */
final class LearnedBefore {

  private static final double MILLION = 1e6;
  private static final double NANO = 1e-9;

  private LearnedBefore() {}

  /**
   * The newest gap curve on record, and what magnets of each kind have shown; the archive's errors
   * pass on.
   */
  static RigMemory of(LedgerArchive archive) {
    RigMemory[] memory = {RigMemory.none()};
    archive.forEachOfKind(
        EventCodec.kind(LedgerEvent.GapCurveMeasured.class),
        stored -> {
          if (EventCodec.decode(stored).event() instanceof LedgerEvent.GapCurveMeasured curve) {
            memory[0] = memory[0].with(curve(curve));
          }
        });
    curves(archive)
        .values()
        .forEach(shown -> memory[0] = memory[0].with(shown.kind(), shown.curve()));
    return memory[0];
  }

  private record Shown(String kind, MagnetCurve curve) {}

  /** What each attempt has shown, in the order of the record. */
  private static Map<String, Shown> curves(LedgerArchive archive) {
    Map<String, Shown> curves = new LinkedHashMap<>();
    archive.forEachOfKind(
        EventCodec.kind(LedgerEvent.CurvePoint.class),
        stored -> {
          if (EventCodec.decode(stored).event() instanceof LedgerEvent.CurvePoint point) {
            String attempt = point.magnet() + "." + point.attempt();
            Optional<MagnetCurve> before =
                Optional.ofNullable(curves.get(attempt)).map(Shown::curve);
            curves.put(attempt, new Shown(point.of(), MagnetCurve.with(before, point)));
          }
        });
    return curves;
  }

  private static GapCurve curve(LedgerEvent.GapCurveMeasured event) {
    return new GapCurve(
        event.strengthPartsPerMillion() / MILLION,
        event.heightMicroMetres() / MILLION,
        new FluxDensity(event.strayNanoTesla() * NANO));
  }
}
