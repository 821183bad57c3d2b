package lodestep.app.remote;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Locale;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.sim.RigTruth;
import lodestep.sim.VirtualRig;

/**
 * The rig's own log of how its host left it, one line a host, for whoever kills hosts. A host that
 * ended in order is told by what stands on the rig at that moment. After one that is simply gone
 * the rig goes on alone, its outputs standing as they were left, which is the worst that a board
 * can do with them; nobody is at the bench. Confined to the rig's thread.
 *
 * <pre>
 * ended outputs BITS bank VOLTS permit BIT
 * gone permit BIT bank VOLTS; permit open after MS, bank highest VOLTS, VOLTS at the end, fired N
 * </pre>
 *
 * <p>The permit is that of its relay's contact, and the time runs on the head's clock from the
 * host's last sign of life, an order or a byte; 0 when it was open already, -1 when it never
 * opened.
 */
final class RigAlone {

  /** The head's own limit is 230 ms, and a bank bleeds to its low mark within five seconds. */
  private static final int ALONE_MS = 6_000;

  private static final Outputs POWER =
      Outputs.high(
          OutputLine.BANK_FILL,
          OutputLine.BANK_HOLD,
          OutputLine.COIL_FIRE,
          OutputLine.COIL_ON,
          OutputLine.JIG_ENABLE);

  private final VirtualRig rig;
  private final Path log;

  RigAlone(VirtualRig rig, Path log) {
    this.rig = rig;
    this.log = log;
  }

  /** The host has said that it ends. */
  void afterItsEnd() throws IOException {
    RigTruth truth = rig.truth();
    int outputs = new Outputs(truth.outputBits()).only(POWER).highBits();
    tell(
        "ended outputs %d bank %.3f permit %d",
        outputs, truth.bankVolts(), truth.permitClosed() ? 1 : 0);
  }

  /**
   * The host is gone without a word; what it had sent is under way to the head.
   *
   * @param aliveAtNs when it gave its last sign of life
   */
  void afterItsDeath(long aliveAtNs) throws IOException {
    RigTruth truth = rig.truth();
    boolean held = truth.permitClosed();
    double bankVolts = truth.bankVolts();
    double highestVolts = bankVolts;
    long pulses = truth.pulses();
    long openAfterNs = held ? -1 : 0;
    for (int ms = 0; ms < ALONE_MS; ms++) {
      rig.step();
      rig.headLink().take();
      highestVolts = Math.max(highestVolts, truth.bankVolts());
      if (openAfterNs < 0 && !truth.permitClosed()) {
        openAfterNs = rig.clock().nowNs() - aliveAtNs;
      }
    }
    tell(
        "gone permit %d bank %.3f; permit open after %d, bank highest %.3f, %.3f at the end,"
            + " fired %d",
        held ? 1 : 0,
        bankVolts,
        openAfterNs < 0 ? -1 : openAfterNs / VirtualRig.STEP_NS,
        highestVolts,
        truth.bankVolts(),
        truth.pulses() - pulses);
  }

  private void tell(String form, Object... values) throws IOException {
    String line = String.format(Locale.ROOT, form, values) + "\n";
    Files.writeString(
        log, line, StandardCharsets.UTF_8, StandardOpenOption.CREATE, StandardOpenOption.APPEND);
  }
}
