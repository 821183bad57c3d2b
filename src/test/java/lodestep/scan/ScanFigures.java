package lodestep.scan;

import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** How much a quiet scan costs; printed, never judged. */
@Tag("figures")
class ScanFigures {

  private static final int SCANS = 2_000_000;

  @Test
  void printsWhatAQuietScanCosts() {
    QuietPorts quiet = new QuietPorts();
    ScanCycle cycle = quiet.cycle();
    long fastestNs = Long.MAX_VALUE;
    long at = 0;
    for (int round = 0; round < 5; round++) {
      long begunNs = System.nanoTime();
      for (int i = 0; i < SCANS; i++) {
        at += 5_000_000L;
        quiet.tick(at);
        cycle.run(at);
      }
      fastestNs = Math.min(fastestNs, (System.nanoTime() - begunNs) / SCANS);
    }
    System.out.println("quiet scan: " + fastestNs + " ns, trip " + cycle.snapshot().trip());
  }
}
