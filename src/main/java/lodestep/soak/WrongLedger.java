package lodestep.soak;

import lodestep.port.ActEvent;
import lodestep.port.EventDraft;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;

/** Writes down what a {@link Planted} mistake says. */
final class WrongLedger implements Ledger {

  private static final long HIGH_MILLI_VOLTS = 60_000;
  private static final long NEAR_MICRO_METRES = 1_000;

  private final Ledger sound;
  private final Planted planted;

  WrongLedger(Ledger sound, Planted planted) {
    this.sound = sound;
    this.planted = planted;
  }

  @Override
  public long nextNumber() {
    return sound.nextNumber();
  }

  @Override
  public void append(EventDraft draft) {
    sound.append(new EventDraft(wrong(draft.event()), draft.atNs(), draft.wall()));
    if (planted == Planted.SECOND_OUTCOME && draft.event() instanceof ActEvent.ActEnded) {
      sound.append(draft);
    } else if (planted == Planted.ZERO_AWAY
        && draft.event() instanceof ActEvent.StrokeEnded ended
        && !ended.outcome().equals("delivered")) {
      LedgerEvent zero = new LedgerEvent.ZeroTaken(0, 1_000, 50, 2_150, 1);
      sound.append(new EventDraft(zero, draft.atNs(), draft.wall()));
    }
  }

  private LedgerEvent wrong(LedgerEvent event) {
    if (event instanceof ActEvent.PulseEnded ended) {
      return wrong(ended);
    } else if (event instanceof ActEvent.StrokeEnded ended) {
      return wrong(ended);
    } else if (planted == Planted.WRONG_READING
        && event instanceof LedgerEvent.ReadingTaken reading) {
      return elsewhere(reading);
    } else if (planted == Planted.HIGH_INTENT && event instanceof ActEvent.PulseIntended intended) {
      return high(intended);
    } else if (planted == Planted.LOW_INTENT && event instanceof ActEvent.StrokeIntended intended) {
      return low(intended);
    }
    return event;
  }

  private LedgerEvent wrong(ActEvent.PulseEnded ended) {
    boolean delivered = ended.outcome().equals("delivered");
    if (planted == Planted.FIRED_NOTHING && ended.outcome().equals("misfired")) {
      return closedAs("delivered", 1, ended);
    } else if (planted == Planted.WRONG_OUTCOME && delivered) {
      return closedAs("not fired", 1, ended);
    }
    return planted == Planted.WRONG_PEAK && delivered ? closedAs("delivered", 0.9, ended) : ended;
  }

  private LedgerEvent wrong(ActEvent.StrokeEnded ended) {
    if (!ended.outcome().equals("delivered")) {
      return ended;
    }
    return switch (planted) {
      case WRONG_OUTCOME -> closedAs("not fired", 0, ended);
      case WRONG_PLACE -> closedAs("delivered", 1_000, ended);
      case LOST_PLACE -> closedAs("delivered", -5_000, ended);
      default -> ended;
    };
  }

  private static LedgerEvent closedAs(String outcome, long lower, ActEvent.StrokeEnded ended) {
    return new ActEvent.StrokeEnded(
        ended.intent(),
        ended.magnet(),
        outcome,
        ended.positionMicroMetres() + lower,
        ended.gapMicroMetres(),
        ended.fieldAmperesPerMetre(),
        ended.drivesNorth(),
        ended.bootId(),
        ended.why());
  }

  private static LedgerEvent low(ActEvent.StrokeIntended intended) {
    return new ActEvent.StrokeIntended(
        intended.magnet(),
        intended.attempt(),
        intended.ordinal(),
        intended.purpose(),
        intended.drivesNorth(),
        intended.positionMicroMetres() + intended.gapMicroMetres() - NEAR_MICRO_METRES,
        NEAR_MICRO_METRES,
        intended.fieldAmperesPerMetre());
  }

  private static LedgerEvent closedAs(String outcome, double current, ActEvent.PulseEnded ended) {
    return new ActEvent.PulseEnded(
        ended.intent(),
        ended.magnet(),
        outcome,
        ended.token(),
        ended.bootId(),
        ended.bankBeforeMilliVolts(),
        ended.bankAfterMilliVolts(),
        Math.round(ended.peakForwardMilliAmps() * current),
        Math.round(ended.peakReverseMilliAmps() * current),
        ended.durationMicros(),
        ended.coilCentiDegC(),
        ended.why());
  }

  private static LedgerEvent elsewhere(LedgerEvent.ReadingTaken reading) {
    return new LedgerEvent.ReadingTaken(
        reading.magnet() + 1,
        reading.stage(),
        reading.fieldMicroTesla(),
        reading.uncertaintyNanoTesla(),
        reading.samples(),
        reading.gaugeCentiDegC(),
        reading.nest(),
        reading.standOffMicroMetres(),
        reading.zero(),
        reading.calibration());
  }

  private static LedgerEvent high(ActEvent.PulseIntended intended) {
    return new ActEvent.PulseIntended(
        intended.magnet(),
        intended.attempt(),
        intended.ordinal(),
        intended.purpose(),
        intended.drivesNorth(),
        intended.full(),
        intended.bankMilliVolts(),
        HIGH_MILLI_VOLTS,
        intended.fieldAmperesPerMetre(),
        intended.peakMilliAmps(),
        intended.coil());
  }

  @Override
  public LedgerState state() {
    LedgerState state = sound.state();
    return planted == Planted.HASTY_DISK
        ? new LedgerState(sound.nextNumber() - 1, state.fault())
        : state;
  }

  @Override
  public void close() {
    sound.close();
  }
}
