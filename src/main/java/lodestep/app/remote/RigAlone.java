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
 * The rig's own log of how its host left it, one line a host, for whoever ends and kills hosts. The
 * rig goes on alone for a while, nobody being at the bench. Outputs stand as a host that is simply
 * gone has left them, which is the worst that a board can do with them; one that ended in order has
 * lowered its own. Confined to the rig's thread.
 *
 * <pre>
 * HOW outputs BITS permit BIT bank VOLTS; permit open after MS, bank highest VOLTS,
 *     VOLTS at the end, fired N
 * </pre>
 *
 * <p>HOW is "ended" or "gone", the rest of the first half is what stands then, of the outputs those
 * that store or release energy. The permit is that of its relay's contact, and the time runs on the
 * head's clock from the host's last sign of life, an order or a byte; 0 when it was open already,
 * -1 when it never opened.
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

  /**
   * The host has left; what it had sent is under way to the head.
   *
   * @param how in one word
   * @param aliveAtNs when it gave its last sign of life
   */
  void afterTheHost(String how, long aliveAtNs) throws IOException {
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
        "%s outputs %d permit %d bank %.3f; permit open after %d, bank highest %.3f,"
            + " %.3f at the end, fired %d",
        how,
        new Outputs(truth.outputBits()).only(POWER).highBits(),
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
