package lodestep.app;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.bench.Continuation;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.bench.Rereads;
import lodestep.dial.PoleUp;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetHistory.Happening;
import lodestep.ledger.MagnetHistory.What;
import lodestep.port.LedgerArchive;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.TimeSpan;
import lodestep.sim.StockPiece;
import lodestep.sim.StockPiece.EarlierPulse;
import lodestep.sim.VirtualOperator;

/**
 * A virtual magnet that was accepted and has lain since: all that was done to it, by the rig, by
 * hand between jaws, and what a person noted.
 *
 * @param seed of the stock it was drawn from
 * @param pulses oldest first
 * @param seconds since the newest of them
 */
record Lain(long seed, List<EarlierPulse> pulses, double seconds) {

  /**
   * Heat, a drop or a knock acts as an opposing field drawn evenly up to this: some spoil a magnet
   * and some do not. Configuration; nothing is published of shocks.
   */
  private static final double BEFELL_MOST_AMPERES_PER_METRE = 45e3;

  /** Empty of a magnet that is not on record. */
  static Optional<Lain> of(LedgerArchive archive, Entry entry, Instant now) {
    return MagnetHistory.of(archive, entry.magnet())
        .map(history -> of(archive, history, entry, now));
  }

  private static Lain of(LedgerArchive archive, MagnetHistory history, Entry entry, Instant now) {
    boolean north = entry.prepared().row().poleUp() == PoleUp.NORTH;
    boolean byHand = Rereads.knockedByHand(history);
    long seed = Continuation.virtualSeed(archive, history.identity().batch()).orElse(0);
    List<EarlierPulse> pulses = new ArrayList<>();
    Instant newest = history.namedWall();
    for (Happening happening : history.happenings()) {
      if (byHand && happening.what() instanceof What.Verdict verdict) {
        pulses.clear();
        pulses.addAll(knockedTo(verdict.event().fieldMicroTesla(), entry, seed));
        newest = happening.wall();
      }
      Optional<EarlierPulse> pulse = pulse(happening, entry, north);
      if (pulse.isPresent()) {
        pulses.add(pulse.get());
        newest = happening.wall();
      }
    }
    double lain = Duration.between(newest, now).toMillis() * 1e-3;
    return new Lain(seed, pulses, Math.max(0, Math.min(TimeSpan.LIMIT_SECONDS / 2, lain)));
  }

  /** What a hand did is not known pulse by pulse; the magnet is one that reads as it was left. */
  private static List<EarlierPulse> knockedTo(long microTesla, Entry entry, long seed) {
    PlanRow row = entry.prepared().row();
    VirtualLevel level =
        new VirtualLevel(
            row.alloy().name(),
            row.shape(),
            FluxDensity.ofMicroTesla(microTesla),
            row.nest().standOff(),
            Stock.seeds(entry, seed));
    boolean north = row.poleUp() == PoleUp.NORTH;
    double full = row.magnet().saturating().amperesPerMetre();
    List<EarlierPulse> pulses = new ArrayList<>();
    pulses.add(new EarlierPulse(north ? full : 0, north ? 0 : full, north));
    level
        .piece(row.magnet(), row.nest().name(), 0)
        .map(StockPiece::earlier)
        .ifPresent(pulses::addAll);
    return pulses;
  }

  private static Optional<EarlierPulse> pulse(Happening happening, Entry entry, boolean north) {
    if (happening.what() instanceof What.Acted act) {
      return Optional.of(
          Stock.again(entry.prepared().source(act.intent().source()), act.intent(), act.end()));
    }
    if (happening.what() instanceof What.ByHand hand && hand.event().act().equals("charge")) {
      double jaws = VirtualOperator.JAWS_AMPERES_PER_METRE;
      boolean up = hand.event().drivesNorth();
      return Optional.of(new EarlierPulse(up ? jaws : 0, up ? 0 : jaws, up));
    }
    if (happening.what() instanceof What.Noted) {
      SplittableRandom random = new SplittableRandom(happening.number());
      double field = random.nextDouble() * BEFELL_MOST_AMPERES_PER_METRE;
      return Optional.of(new EarlierPulse(north ? 0 : field, north ? field : 0, !north));
    }
    return Optional.empty();
  }
}
