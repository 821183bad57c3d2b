package lodestep.app;

import java.util.Collections;
import java.util.List;
import java.util.Locale;
import lodestep.app.remote.HandOrder;
import lodestep.bench.PointSeries;
import lodestep.config.RigConfig;
import lodestep.ledger.MagnetHistory;
import lodestep.magnet.Shape;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.quantity.FluxDensity;
import lodestep.sim.StockPiece;

/**
 * A magnet on the virtual rig's record, laid down at several points: of its kind and name, and as
 * strong as its newest reading says, or as its target says where it was never read.
 */
final class VirtualOnRecord {

  private VirtualOnRecord() {}

  static HandOrder order(RigConfig rig, MagnetHistory history, PointSeries series, long seed) {
    MagnetNamed named = history.identity();
    Shape shape = series.subject().shape();
    String lot = named.lot() + named.alloy() + shape.words();
    StockPiece fresh =
        new StockPiece(
            named.alloy(),
            shape,
            series.subject().northUp(),
            true,
            seed * 31 + lot.toLowerCase(Locale.ROOT).hashCode(),
            seed * 31 + named.name().hashCode(),
            series.nest().name(),
            List.of());
    List<ReadingTaken> readings = history.readings();
    long microTesla =
        readings.isEmpty()
            ? named.targetMicroTesla()
            : readings.get(readings.size() - 1).fieldMicroTesla();
    StockPiece piece =
        VirtualReference.knockedDown(
            rig, fresh, FluxDensity.ofMicroTesla(microTesla).magnitude().tesla());
    List<HandOrder.Laying> layings =
        series.placings().stream()
            .map(
                placed ->
                    new HandOrder.Laying(
                        Math.round(placed.point().alongMetres(shape) * 1e6), !placed.strings()))
            .toList();
    return new HandOrder(
        series.nest().name(),
        seed,
        Collections.nCopies(layings.size(), piece),
        List.of(),
        shape.height().microMetres(),
        List.of(),
        seed,
        layings);
  }
}
