package lodestep.soak;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.bench.Batch;
import lodestep.bench.Continuation;
import lodestep.bench.Entry;
import lodestep.bench.NestSeatings;
import lodestep.bench.PlanRow;
import lodestep.bench.Prepared;
import lodestep.bench.WearOnRecord;
import lodestep.config.CoilConfig;
import lodestep.device.Carried;
import lodestep.device.RigWear;
import lodestep.device.UsualCurrents;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.RigMemory;
import lodestep.ledger.EventCodec;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualOperator;

/**
 * The magnets of one run, and the batch that works them. A magnet is made once: what was done to it
 * stays done, whatever becomes of the program. Confined to its world.
 */
final class Stock {

  private static final int MAGNETS_MAX = 2;

  private final SoakSettings settings;
  private final List<Entry> planned = new ArrayList<>();
  private final Map<String, VirtualOperator.Piece> pieces = new HashMap<>();
  private final PlannerMode mode;

  Stock(SoakSettings settings, SplittableRandom random) {
    this.settings = settings;
    List<Prepared> left = new ArrayList<>(settings.stock());
    int count = Math.min(MAGNETS_MAX, left.size());
    for (int i = 0; i < count; i++) {
      Prepared drawn = left.remove(random.nextInt(left.size()));
      Entry entry = Entry.planned(drawn, 1);
      planned.add(entry);
      pieces.put(entry.name(), piece(drawn.row(), random));
    }
    this.mode = random.nextInt(4) == 0 ? PlannerMode.SMALL_STEPS : PlannerMode.CURVE;
  }

  private static VirtualOperator.Piece piece(PlanRow row, SplittableRandom random) {
    return new StockPiece(
            row.alloy().name(),
            row.shape(),
            row.poleUp() == PoleUp.NORTH,
            !row.task().charges(),
            random.nextLong(),
            random.nextLong(),
            row.nest().name(),
            List.of())
        .made(row.magnet());
  }

  /** The nest that is mounted at first. */
  String firstNest() {
    return planned.get(0).prepared().row().nest().name();
  }

  /** The batch that this record leaves open, or a new one; empty when it has been ended. */
  Optional<Batch> batch(LedgerArchive archive) {
    Optional<Continuation> going = Continuation.of(archive);
    if (going.isPresent()) {
      return Optional.of(
          batch(going.get().number(), going.get().entries(planned)).with(known(archive)));
    }
    boolean[] begun = {false};
    archive.forEachOfKind(
        EventCodec.kind(LedgerEvent.BatchStarted.class), stored -> begun[0] = true);
    return begun[0] ? Optional.empty() : Optional.of(batch(0, planned).with(known(archive)));
  }

  /**
   * A program that starts knows of the rig's wear by its record, on a rig that has worked before.
   */
  private RigMemory known(LedgerArchive archive) {
    return RigMemory.none().with(WearOnRecord.of(archive, settings.rig(), workedBefore()));
  }

  /** Sound coils that have carried what they should, as often as it takes to know it. */
  private RigWear workedBefore() {
    RigWear wear = RigWear.UNKNOWN;
    for (CoilConfig coil : settings.rig().coils()) {
      for (int pulse = 0; pulse < UsualCurrents.ENOUGH; pulse++) {
        wear = wear.with(new Carried(coil.name(), true, 1.0));
        wear = wear.with(new Carried(coil.name(), false, 1.0));
      }
    }
    return wear;
  }

  private Batch batch(long number, List<Entry> entries) {
    return new Batch(
        "soak",
        "0".repeat(64),
        "",
        number,
        entries,
        mode,
        RigMemory.none(),
        Optional.empty(),
        settings.calibration(),
        0,
        NestSeatings.USUAL);
  }

  /** The magnets of this batch that have no verdict yet, in the order of work. */
  List<VirtualOperator.Piece> open(Batch batch) {
    List<VirtualOperator.Piece> open = new ArrayList<>();
    for (Entry entry : batch.entries()) {
      if (!entry.done()) {
        open.add(pieces.get(entry.name()));
      }
    }
    return open;
  }
}
