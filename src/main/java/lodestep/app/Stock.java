package lodestep.app;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lodestep.app.remote.StockPiece;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;

/** The virtual stock for a batch. */
final class Stock {

  private Stock() {}

  /** One magnet for each entry that is still open, from one lot for each alloy and shape. */
  static List<StockPiece> of(Batch batch, long seed) {
    List<StockPiece> pieces = new ArrayList<>();
    for (Entry entry : batch.entries()) {
      if (!entry.done()) {
        pieces.add(piece(entry, seed));
      }
    }
    return pieces;
  }

  private static StockPiece piece(Entry entry, long seed) {
    PlanRow row = entry.prepared().row();
    String lotName = (row.alloy().name() + row.shape().words()).toLowerCase(Locale.ROOT);
    return new StockPiece(
        row.alloy().name(),
        row.shape(),
        row.poleUp() == PoleUp.NORTH,
        // What is only to come down, or to lose all, was charged before.
        !(row.task() instanceof Task.ToLevel),
        seed * 31 + lotName.hashCode(),
        seed * 31 + entry.name().hashCode(),
        row.nest().name());
  }

  /** The nest that is mounted when the batch begins; empty when nothing is left to do. */
  static String firstNest(Batch batch) {
    return batch.next().map(entry -> entry.prepared().row().nest().name()).orElse("");
  }

  /** The operator draws from a seed of her own, so that she does not follow the rig's noise. */
  static long operatorSeed(long seed) {
    return seed ^ 0x5deece66dL;
  }
}
