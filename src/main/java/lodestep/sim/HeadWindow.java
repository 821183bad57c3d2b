package lodestep.sim;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import lodestep.config.BankConfig;
import lodestep.port.InputLine;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RefusalReason;

/**
 * Tokens, the fire window and the pulse reports of the head. Confined to its head.
 *
 * <p>A token is granted while the permit is held, serves one intent, lives 500 ms of the head's
 * clock and is spent by the first request that presents it, granted or not. A newer token takes the
 * place of an older one. The window opens only with the fill relay released and the bleed contact
 * open, the changeover still for 50 ms, no coil current, {@code coil_fire} low and the bank at or
 * below both the voltage asked and the cap; it closes when {@code coil_fire} falls after having
 * been high, after 300 ms, or with the permit. One report follows each window once the coil current
 * is zero, fired or not, and stays in the ring of the last 64.
 */
final class HeadWindow {

  static final long TOKEN_LIVES_MS = 500;
  static final long WINDOW_MAX_MS = 300;
  static final int RING_LENGTH = 64;

  /** Two per cent over the highest voltage of any bank; the head's own, no setting. */
  static final double BANK_CAP_MILLI_VOLTS = 1.02e3 * BankConfig.VOLTS_CAP;

  private static final double CURRENT_ZERO_AMPS = 0.05;
  private static final int REVERSE_CONTACT = FaultState.bit(InputLine.REVERSE_CONTACT);
  private static final int BLEED_CONTACT = FaultState.bit(InputLine.BLEED_CONTACT);
  private static final int FILL_CONTACT = FaultState.bit(InputLine.FILL_CONTACT);

  private final Plant plant;
  private final HeadSensors sensors;
  private final HeadPermit permit;
  private final int bootId;
  private final Deque<HeadFrame.PulseReport> ring = new ArrayDeque<>();

  private int lastToken;
  private int liveToken;
  private long liveIntent;
  private long liveFromMs;
  private long changeoverMovedAtMs;
  private int changeover;

  private boolean open;
  private long openedAtMs;
  private int token;
  private long intentNumber;
  private boolean fired;
  private long pulsesBefore;
  private int bankBeforeMilliVolts;
  private int bankAfterMilliVolts;
  private boolean reportDue;

  /**
   * The window of one run of the head.
   *
   * @param tokensAfter tokens are counted up from here
   */
  HeadWindow(Plant plant, HeadSensors sensors, HeadPermit permit, int bootId, int tokensAfter) {
    this.plant = plant;
    this.sensors = sensors;
    this.permit = permit;
    this.bootId = bootId;
    this.lastToken = tokensAfter;
    this.changeover = -1;
  }

  /** Answers a request for a token. */
  HeadFrame askToken(long clockMs, HeadRequest.AskToken request) {
    if (!permit.held()) {
      return new HeadFrame.Refused(bootId, RefusalReason.NO_PERMIT, request.intentNumber());
    }
    lastToken = lastToken % Integer.MAX_VALUE + 1;
    liveToken = lastToken;
    liveIntent = request.intentNumber();
    liveFromMs = clockMs;
    return new HeadFrame.TokenGrant(bootId, liveToken, liveIntent);
  }

  /** Opens the window, or says why not. */
  Optional<HeadFrame> openWindow(long clockMs, int headContactBits, HeadRequest.OpenWindow asked) {
    boolean good =
        asked.token() == liveToken
            && liveToken != 0
            && asked.intentNumber() == liveIntent
            && clockMs - liveFromMs <= TOKEN_LIVES_MS;
    if (asked.token() == liveToken) {
      liveToken = 0;
    }
    Optional<RefusalReason> reason = refusal(clockMs, headContactBits, asked, good);
    if (reason.isPresent()) {
      return Optional.of(new HeadFrame.Refused(bootId, reason.get(), asked.intentNumber()));
    }
    open = true;
    openedAtMs = clockMs;
    token = asked.token();
    intentNumber = asked.intentNumber();
    fired = false;
    pulsesBefore = plant.circuit().pulses();
    bankBeforeMilliVolts = sensors.bankMilliVoltsNoisy();
    plant.openWindow(true);
    return Optional.empty();
  }

  private Optional<RefusalReason> refusal(
      long clockMs, int contactBits, HeadRequest.OpenWindow asked, boolean tokenGood) {
    if (!permit.held()) {
      return Optional.of(RefusalReason.NO_PERMIT);
    }
    if (!tokenGood) {
      return Optional.of(RefusalReason.BAD_TOKEN);
    }
    if (!wiringReady(clockMs, contactBits)) {
      return Optional.of(RefusalReason.NOT_SAFE);
    }
    double bankMilliVolts = sensors.bankMilliVolts();
    if (bankMilliVolts > asked.bankMilliVoltsMax() || bankMilliVolts > BANK_CAP_MILLI_VOLTS) {
      return Optional.of(RefusalReason.BANK_TOO_HIGH);
    }
    return Optional.empty();
  }

  private boolean wiringReady(long clockMs, int contactBits) {
    return !open
        && !reportDue
        && (contactBits & FILL_CONTACT) != 0
        && (contactBits & BLEED_CONTACT) == 0
        && clockMs - changeoverMovedAtMs >= HeadPermit.CONTACTS_STABLE_MS
        && !plant.fireLineHigh()
        && Math.abs(plant.circuit().coilAmps()) < CURRENT_ZERO_AMPS;
  }

  /** A millisecond on the head's clock; gives the report when it is due. */
  Optional<HeadFrame> step(long clockMs, int headContactBits) {
    int seen = headContactBits & REVERSE_CONTACT;
    if (seen != changeover) {
      changeover = seen;
      changeoverMovedAtMs = clockMs;
    }
    if (!permit.held()) {
      // Whatever took the permit away also destroys what was pending.
      liveToken = 0;
    }
    if (open) {
      watchWindow(clockMs);
    }
    if (reportDue && !plant.circuit().conducting()) {
      return Optional.of(report());
    }
    return Optional.empty();
  }

  private void watchWindow(long clockMs) {
    boolean high = plant.fireLineHigh();
    boolean pulseOver = fired && !high;
    fired |= high;
    if (pulseOver || clockMs - openedAtMs >= WINDOW_MAX_MS || !permit.held()) {
      close();
    } else if (!fired) {
      // The newest sample from before the switch closed is the one that counts.
      bankBeforeMilliVolts = sensors.bankMilliVoltsNoisy();
    }
  }

  private void close() {
    open = false;
    plant.openWindow(false);
    bankAfterMilliVolts = sensors.bankMilliVoltsNoisy();
    reportDue = true;
  }

  private HeadFrame.PulseReport report() {
    reportDue = false;
    PowerCircuit circuit = plant.circuit();
    boolean pulsed = circuit.pulses() != pulsesBefore;
    HeadFrame.PulseReport report =
        new HeadFrame.PulseReport(
            bootId,
            intentNumber,
            token,
            sensors.peakMilliAmps(pulsed ? circuit.peakForwardAmps() : 0.0),
            sensors.peakMilliAmps(pulsed ? circuit.peakReverseAmps() : 0.0),
            bankBeforeMilliVolts,
            bankAfterMilliVolts,
            pulsed ? circuit.pulseMicros() : 0,
            fired);
    if (ring.size() == RING_LENGTH) {
      ring.removeFirst();
    }
    ring.addLast(report);
    return report;
  }

  /** The newest report of this intent from the ring, or the refusal that it is not there. */
  HeadFrame askPulse(HeadRequest.AskPulse request) {
    HeadFrame found =
        new HeadFrame.Refused(bootId, RefusalReason.NOT_IN_RING, request.intentNumber());
    for (HeadFrame.PulseReport report : ring) {
      if (report.intentNumber() == request.intentNumber()) {
        found = report;
      }
    }
    return found;
  }

  /** Whether the window is open. */
  boolean open() {
    return open;
  }
}
