package lodestep.app;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.config.RigConfig;
import lodestep.dial.FieldSource;
import lodestep.dial.PoleUp;
import lodestep.ledger.MagnetHistory;
import lodestep.port.ActEvent;
import lodestep.port.LedgerArchive;
import lodestep.sim.StockPiece;
import lodestep.sim.StockPiece.EarlierPulse;

/**
 * The virtual stock beside the bench: one virtual magnet for each entry of a batch that is still
 * open, made of the seed and its name alone, so that after a restart the same magnets lie there.
 *
 * <p>What an earlier run did to a magnet is done to it again from the record, pulse by pulse, by
 * the peaks the head measured. A pulse that may have been fired is taken as fired at its full
 * field: nothing above may count on its not having been.
 *
 * @param archive what is on record, durable only
 * @param wall when the run begins, by the virtual wall clock
 */
record Stock(long seed, LedgerArchive archive, Instant wall) {

  /** Beside a bench at which nothing is read again, so that the day does not matter. */
  Stock(long seed, LedgerArchive archive) {
    this(seed, archive, Instant.EPOCH);
  }

  /** The magnets in the order of work. */
  List<StockPiece> pieces(Batch batch) {
    List<StockPiece> pieces = new ArrayList<>();
    for (Entry entry : batch.entries()) {
      if (!entry.done()) {
        pieces.add(piece(entry));
      }
    }
    return pieces;
  }

  private StockPiece piece(Entry entry) {
    PlanRow row = entry.prepared().row();
    Optional<Lain> lain =
        entry.prepared().again().flatMap(accepted -> Lain.of(archive, entry, wall));
    long seed = lain.map(Lain::seed).orElse(this.seed);
    VirtualLevel.Seeds seeds = seeds(entry, seed);
    return new StockPiece(
        row.alloy().name(),
        row.shape(),
        row.poleUp() == PoleUp.NORTH,
        // What is only to come down, or to lose all, was charged before.
        !row.task().charges(),
        seeds.lot(),
        seeds.own(),
        row.nest().name(),
        lain.map(Lain::pulses).orElseGet(() -> earlier(entry)),
        lain.map(Lain::seconds).orElse(0.0));
  }

  /** From what an entry's magnet is drawn. */
  static VirtualLevel.Seeds seeds(Entry entry, long seed) {
    PlanRow row = entry.prepared().row();
    String lotName = row.lot().orElse("") + row.alloy().name() + row.shape().words();
    return new VirtualLevel.Seeds(
        seed * 31 + lotName.toLowerCase(Locale.ROOT).hashCode(),
        seed * 31 + entry.name().hashCode());
  }

  private List<EarlierPulse> earlier(Entry entry) {
    if (entry.magnet() == 0) {
      return List.of();
    }
    return MagnetHistory.of(archive, entry.magnet()).stream()
        .flatMap(history -> history.acts().stream())
        .map(act -> again(entry.prepared().source(act.intent().source()), act.intent(), act.end()))
        .toList();
  }

  static EarlierPulse again(
      Optional<FieldSource> source, ActEvent.Intent intent, Optional<ActEvent.ActEnded> end) {
    boolean north = intent.drivesNorth();
    double peak = intent.fieldAmperesPerMetre();
    return end.filter(ended -> !ended.outcome().equals("unknown"))
        .flatMap(ended -> source.flatMap(known -> known.swing(ended)))
        .map(
            swing ->
                new EarlierPulse(
                    swing.north().amperesPerMetre(), swing.south().amperesPerMetre(), north))
        .orElseGet(() -> new EarlierPulse(north ? peak : 0, north ? 0 : peak, north));
  }

  /** The nest that is mounted when the batch begins; any when nothing is left to do. */
  static String firstNest(Batch batch, RigConfig rig) {
    return batch
        .next()
        .map(entry -> entry.prepared().row().nest().name())
        .orElseGet(() -> rig.nests().get(0).name());
  }

  /** A batch that goes on meets the same stock and another day: new noise, another boot. */
  long rigSeed(Batch batch) {
    return batch.number() == 0 && !batch.rereads() ? seed : seed * 31 + archive.newest().number();
  }

  /** The operator draws from a seed of her own, so that she does not follow the rig's noise. */
  long operatorSeed(Batch batch) {
    return rigSeed(batch) ^ 0x5deece66dL;
  }
}
