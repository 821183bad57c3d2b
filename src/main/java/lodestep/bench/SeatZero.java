package lodestep.bench;

import java.util.Optional;
import lodestep.measure.GaugeZero;
import lodestep.measure.SettlingRule;
import lodestep.measure.Zeroing;
import lodestep.port.LedgerEvent;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;

/**
 * The zero of the gauge between two magnets: taken while the seat is empty and all is quiet, taken
 * anew when it grows old.
 *
 * @param taking the zero under way
 * @param takenAtNs when the zero in use was taken
 */
record SeatZero(Optional<Zeroing> taking, Optional<Long> takenAtNs) {

  static final SeatZero NONE = new SeatZero(Optional.empty(), Optional.empty());

  /** The gauge wanders by a tenth of a gauss in some minutes; a zero this young need not be new. */
  private static final long YOUNG_NS = 60_000_000_000L;

  private static final double MILLI = 1e3;

  /**
   * An earlier zero goes on standing for the magnet that may still be in the nest. How long it has
   * stood, and what was moved at the rig meanwhile, is not known: once the nest is empty it is
   * taken anew, and must be found where it was.
   */
  static SeatZero standing(long nowNs) {
    return new SeatZero(Optional.empty(), Optional.of(nowNs - YOUNG_NS));
  }

  boolean taken() {
    return takenAtNs.isPresent();
  }

  /** Stops a zero under way, because the seat is no longer empty or something disturbs. */
  SeatZero interrupted() {
    return taking.isEmpty() ? this : new SeatZero(Optional.empty(), takenAtNs);
  }

  /** With this view's samples, while a zero is due. */
  SeatZero seen(View view, Batch batch) {
    boolean young = takenAtNs.isPresent() && view.nowNs() - takenAtNs.get() < YOUNG_NS;
    if (young) {
      return this;
    }
    if (!BatchJig.quiet(view, batch)) {
      return interrupted();
    }
    Zeroing more =
        taking.orElseGet(() -> Zeroing.start(SettlingRule.zero(batch.calibration()), view.nowNs()));
    for (ReceivedFrame received : view.frames()) {
      // A line that came before the zero was begun may show the magnet being taken out.
      if (received.frame() instanceof HeadFrame.Status status
          && (taking.isPresent() || received.receivedAtNs() - view.nowNs() >= 0)) {
        more = more.with(status.hallCounts(), received.receivedAtNs());
      }
    }
    return new SeatZero(Optional.of(more), takenAtNs);
  }

  /** What the zero under way comes to, as an entry; empty while it is not settled. */
  Optional<LedgerEvent> entry(Batch batch, View view) {
    if (taking.isEmpty()) {
      return Optional.empty();
    }
    return taking
        .get()
        .outcome()
        .match(
            continues -> Optional.empty(),
            taken -> Optional.of(judged(taken.zero(), batch, view)),
            notTaken -> Optional.of(refused(0, batch, "no zero: " + notTaken.why())));
  }

  /** The zero that has just been taken. */
  GaugeZero zero() {
    return taking.flatMap(Zeroing::taken).orElseThrow();
  }

  private static LedgerEvent judged(GaugeZero zero, Batch batch, View view) {
    Optional<String> why = objection(zero, batch);
    return why.isPresent()
        ? refused(zero.counts(), batch, why.get())
        : new LedgerEvent.ZeroTaken(
            Math.round(zero.counts() * MILLI),
            Math.round(zero.standardUncertaintyCounts() * MILLI),
            zero.samples(),
            view.status().map(status -> (long) status.frame().gaugeCentiDegC()).orElse(0L),
            batch.calibrationNumber());
  }

  private static Optional<String> objection(GaugeZero zero, Batch batch) {
    double tesla = zero.counts() / batch.calibration().countsPerTesla();
    // A jig's parked magnet is a part of every zero; what it makes of it is measured with the jig.
    if (batch.jig().isEmpty() && Math.abs(tesla) > HandSteps.OFFSET_MAX_TESLA) {
      return Optional.of(
          "the gauge reads "
              + new FluxDensity(Math.abs(tesla)).inGauss()
              + " with the seat empty, more than its own offset and the room make of it; take"
              + " every magnet and all steel an arm's length away");
    }
    double mostTesla = batch.limits().zeroJump().tesla();
    return before(batch)
        .filter(last -> Math.abs(tesla - last.tesla()) > mostTesla)
        .map(last -> elsewhere(new FluxDensity(tesla), last, batch.jig().isPresent()));
  }

  /**
   * The last zero; before the first one over a jig's parked magnet, what its measurement showed.
   */
  private static Optional<FluxDensity> before(Batch batch) {
    double perTesla = batch.calibration().countsPerTesla();
    return batch
        .zero()
        .map(last -> new FluxDensity(last.gauge().counts() / perTesla))
        .or(() -> batch.jig().flatMap(jig -> batch.memory().gap().parked()));
  }

  private static String elsewhere(FluxDensity now, FluxDensity last, boolean jig) {
    return jig
        ? "over the empty nest the gauge shows "
            + now.inGauss()
            + " and showed "
            + last.inGauss()
            + "; see that the opposing magnet is on its carriage and no magnet, steel or phone near"
            + " the nest; the jig is measured again"
        : "the gauge's zero jumped by "
            + new FluxDensity(Math.abs(now.tesla() - last.tesla())).inGauss()
            + "; see that no magnet, steel or phone lies near the nest";
  }

  private static LedgerEvent refused(double counts, Batch batch, String why) {
    double last = batch.zero().map(zero -> zero.gauge().counts()).orElse(0.0);
    return new LedgerEvent.ZeroRefused(Math.round(counts * MILLI), Math.round(last * MILLI), why);
  }
}
