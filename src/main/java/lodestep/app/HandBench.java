package lodestep.app;

import java.util.Queue;
import java.util.function.BooleanSupplier;
import java.util.function.LongConsumer;
import lodestep.bench.HandJob;
import lodestep.bench.HandWork;
import lodestep.bench.LedgerStart;
import lodestep.cli.HeadWork;
import lodestep.port.Ledger;

/** Work by hand with a head alone, from the empty seat to the verdict. */
final class HandBench {

  /** What can be typed, in one line for a person. */
  static final String WORDS =
      "Type Enter when a thing is done, n when there is nothing stronger to charge with, q to end,"
          + " or another gauge's reading: 380 G by shelf gauge.";

  private final GuidedBench bench;

  /**
   * @param beforeEachScan brings a virtual ledger to the scan's time; nothing for a real one
   * @param usualGauge the gauge meant when a typed reading names none; may be empty
   */
  HandBench(
      HeadSource source,
      HandWork work,
      LedgerStart start,
      Ledger ledger,
      LongConsumer beforeEachScan,
      String usualGauge) {
    this.bench =
        new GuidedBench(
            source,
            new GuidedBench.Gauge(work.calibration(), work.limits()),
            HandJob.begin(work, start.prologue()),
            ledger,
            beforeEachScan,
            new GuidedBench.Words(WORDS, usualGauge, true));
  }

  /** As {@link GuidedBench#toTheEnd}. */
  HeadWork.HandOutcome toTheEnd(
      HeadWork.HandWatcher listener, Queue<String> typed, BooleanSupplier stop) {
    HandJob.Done done = (HandJob.Done) bench.toTheEnd(listener, typed, stop);
    return new HeadWork.HandOutcome(done.hand(), done.verdict(), done.why(), bench.seconds());
  }
}
