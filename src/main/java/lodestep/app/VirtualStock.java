package lodestep.app;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.dial.CoilDrive;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.ledger.MagnetHistory;
import lodestep.magnet.MagnetModel;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.sim.VirtualMagnet;
import lodestep.sim.VirtualOperator;

/**
 * The virtual stock beside the bench: one virtual magnet for each entry of a batch that is still
 * open, made of the seed and its name alone, so that after a restart the same magnets lie there.
 *
 * <p>What an earlier run did to a magnet is done to it again from the record, pulse by pulse, by
 * the peaks the head measured. A pulse that may have been fired is taken as fired at its full
 * field: nothing above may count on its not having been.
 *
 * @param archive what is on record, durable only
 */
record VirtualStock(long seed, LedgerArchive archive) {

  /** The magnets in the order of work, each with the nest it belongs in. */
  List<VirtualOperator.Piece> pieces(Batch batch) {
    List<VirtualOperator.Piece> pieces = new ArrayList<>();
    for (Entry entry : batch.entries()) {
      if (!entry.done()) {
        String nest = entry.prepared().row().nest().name();
        pieces.add(new VirtualOperator.Piece(asLeft(entry), nest));
      }
    }
    return pieces;
  }

  private VirtualMagnet asLeft(Entry entry) {
    VirtualMagnet magnet = asDelivered(entry);
    if (entry.magnet() > 0) {
      MagnetHistory.of(archive, entry.magnet())
          .ifPresent(
              history ->
                  history
                      .pulses()
                      .forEach(
                          pulse ->
                              apply(
                                  magnet, entry.prepared().drive(), pulse.intent(), pulse.end())));
    }
    return magnet;
  }

  private static void apply(
      VirtualMagnet magnet,
      CoilDrive drive,
      LedgerEvent.PulseIntended intent,
      Optional<LedgerEvent.PulseEnded> end) {
    boolean north = intent.drivesNorth();
    boolean known = end.isPresent() && !end.get().outcome().equals("unknown");
    if (known) {
      magnet.applyPulse(
          field(drive, end.get().peakForwardMilliAmps()),
          field(drive, end.get().peakReverseMilliAmps()),
          north);
    } else {
      double peak = intent.fieldAmperesPerMetre();
      magnet.applyPulse(north ? peak : 0, north ? 0 : peak, north);
    }
  }

  private static double field(CoilDrive drive, long milliAmps) {
    return drive.fieldOf(milliAmps * 1e-3).amperesPerMetre();
  }

  private VirtualMagnet asDelivered(Entry entry) {
    PlanRow row = entry.prepared().row();
    String lotName = row.lot().orElse("") + row.alloy().name() + row.shape().words();
    SplittableRandom lotRandom =
        new SplittableRandom(seed * 31 + lotName.toLowerCase(Locale.ROOT).hashCode());
    VirtualMagnet.Lot lot = VirtualMagnet.Lot.drawn(row.alloy(), lotRandom);
    SplittableRandom own = new SplittableRandom(seed * 31 + entry.name().hashCode());
    boolean north = row.poleUp() == PoleUp.NORTH;
    VirtualMagnet magnet = VirtualMagnet.of(lot, row.shape(), north, own);
    if (row.task() instanceof Task.DownBy) {
      // A row that only comes down is a magnet that was charged before.
      double peak =
          MagnetModel.of(row.alloy(), row.shape())
              .saturatingApplied(row.alloy().saturatingField())
              .amperesPerMetre();
      magnet.applyPulse(north ? peak : 0, north ? 0 : peak, north);
    }
    return magnet;
  }
}
