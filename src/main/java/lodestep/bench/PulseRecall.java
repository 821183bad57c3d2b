package lodestep.bench;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import lodestep.device.PulseJudgement;
import lodestep.port.ActEvent;
import lodestep.protocol.HeadFrame;

/**
 * Pulses that an earlier run of the program left open, to be asked of the head's ring: the head may
 * have seen what the program did not live to write down. Any thread, immutable.
 *
 * @param bootId the head's run on record; any other run of it knows nothing of them
 * @param intents by the number of the intent
 */
public record PulseRecall(long bootId, Map<Long, ActEvent.PulseIntent> intents) {

  public PulseRecall {
    intents = Collections.unmodifiableMap(new LinkedHashMap<>(intents));
  }

  /** Whether this report is of one of them, and from the run of the head that fired it. */
  boolean means(HeadFrame.PulseReport report) {
    return report.bootId() == bootId && intents.containsKey(report.intentNumber());
  }

  /** How the pulse of this report ended, judged as if the program had lived to hear it. */
  ActEvent.PulseEnded ended(HeadFrame.PulseReport report, long coilCentiDegC) {
    ActEvent.PulseIntent intent = intents.get(report.intentNumber());
    if (intent == null) {
      throw new IllegalArgumentException("no pulse " + report.intentNumber() + " was left open");
    }
    PulseJudgement judged =
        PulseJudgement.of(intent.drivesNorth(), intent.peakMilliAmps() * 1e-3, report);
    String told = "the program ended in the middle of it, and the head's ring told how it ended";
    String why = judged.why().isEmpty() ? told : judged.why() + "; " + told;
    return ActEvent.PulseEnded.of(
        report.intentNumber(),
        intent.magnet(),
        judged.outcome().word(),
        report,
        coilCentiDegC,
        why);
  }
}
