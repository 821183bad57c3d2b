package lodestep.soak;

import java.util.Optional;
import java.util.Set;
import lodestep.bench.LedgerStart;
import lodestep.port.ActEvent;
import lodestep.port.Contacts;
import lodestep.port.EventDraft;
import lodestep.port.HeadLink;
import lodestep.port.InputLine;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;
import lodestep.port.Lines;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;

/** Does what a {@link Planted} mistake says, between the host and its ports. */
final class Mischief {

  /** Long after the first scans, long before any magnet lies in the nest. */
  private static final long STRAY_AT_MS = 600;

  private static final long STRAY_FOR_MS = 20;
  private static final long THROWS_AT_MS = 5_000;
  private static final long KEY_OFF_AFTER_MS = 300;
  private static final long KEY_OFF_FOR_MS = 100;
  private static final long STARTS_EACH_MS = 3_000;
  private static final long NERVOUS_FOR_MS = 12;
  private static final long BLEED_HIDDEN_MS = 40;
  private static final long KEPT_AT_MS = 20;
  private static final long KEPT_FOR_MS = 20;
  private static final long LATE_GATE_AT_MS = 50;
  private static final Set<Integer> CHAIN_TRIPS =
      Set.of(
          TripCause.STOP_LOOP_OPEN.code(),
          TripCause.LID_OPENED.code(),
          TripCause.CHAIN_OPEN.code());

  /** Longer than any window. */
  private static final long GATE_KEPT_MS = 400;

  private static final long HIGH_MILLI_VOLTS = 60_000;

  private static final int LID_SHUT =
      HeadFlag.LID_A.bit() | HeadFlag.LID_B.bit() | HeadFlag.CHAIN.bit();

  private final Planted planted;
  private final Witness witness;
  private boolean lidWasOpen;
  private boolean lidHides;
  private long filledAtMs = Witness.NEVER;

  Mischief(Planted planted, Witness witness) {
    this.planted = planted;
    this.witness = witness;
  }

  Lines lines(Lines sound) {
    lidWasOpen = false;
    lidHides = false;
    return planted == Planted.NOTHING ? sound : new WrongLines(sound);
  }

  HeadLink head(HeadLink sound) {
    return planted == Planted.NOTHING
        ? sound
        : new WrongHead(sound, planted, witness, this::wrongFlags);
  }

  /** The head itself: it guards what the host guards too, so one mistake may have to be in both. */
  HeadLink headItself(HeadLink sound) {
    return planted == Planted.OLD_TOKEN ? new CarelessHead(sound) : sound;
  }

  Ledger ledger(Ledger sound) {
    return planted == Planted.NOTHING ? sound : new WrongLedger(sound);
  }

  LedgerStart start(LedgerStart sound) {
    return planted == Planted.FORGOTTEN_TRIP
        ? new LedgerStart(sound.prologue(), Optional.empty())
        : sound;
  }

  /** While the bleed contact is closed although it should not be, and until the relay is back. */
  private boolean hidesBleed() {
    return planted == Planted.BLEED_IN_FILL && witness.ms - filledAtMs < BLEED_HIDDEN_MS;
  }

  /** The head's own copies of the contacts tell the same as the host's. */
  private int wrongFlags(int flags) {
    int wrong = hidesBleed() ? flags & ~HeadFlag.BLEED_CONTACT.bit() : flags;
    return lidHides ? wrong | LID_SHUT : wrong;
  }

  private final class WrongLines implements Lines {
    private final Lines sound;
    private Outputs last = Outputs.ALL_LOW;
    private Outputs energised = Outputs.ALL_LOW;
    private long energisedAtMs = Witness.NEVER;
    private long gateRoseAtMs = Witness.NEVER;

    WrongLines(Lines sound) {
      this.sound = sound;
    }

    @Override
    public Contacts read(long nowNs) {
      Contacts read = sound.read(nowNs);
      return switch (planted) {
        case SELF_RESET -> selfReset(read);
        case SELF_START ->
            read.with(InputLine.START_PEDAL, witness.ms % STARTS_EACH_MS < STRAY_FOR_MS);
        case STALE_PROOF -> lidHidden(read);
        case DEAD_PEDAL -> read.with(InputLine.START_PEDAL, false);
        case BLEED_IN_FILL ->
            read.with(
                InputLine.BLEED_CONTACT, read.closed(InputLine.BLEED_CONTACT) && !hidesBleed());
        case NERVOUS_STOP ->
            read.with(
                InputLine.STOP_LOOP,
                read.closed(InputLine.STOP_LOOP) && witness.ms % STARTS_EACH_MS >= NERVOUS_FOR_MS);
        default -> read;
      };
    }

    /** From the first closing on, which the interlocks need, the lid reads closed. */
    private Contacts lidHidden(Contacts read) {
      boolean open = !read.closed(InputLine.LID_A) && !read.closed(InputLine.LID_B);
      lidWasOpen |= open;
      lidHides |= lidWasOpen && read.closed(InputLine.LID_A) && read.closed(InputLine.LID_B);
      return lidHides ? read.with(InputLine.LID_A, true).with(InputLine.LID_B, true) : read;
    }

    private Contacts selfReset(Contacts read) {
      long sinceMs = witness.ms - witness.trippedAtMs - KEY_OFF_AFTER_MS;
      boolean off = witness.tripped && sinceMs >= 0 && sinceMs < KEY_OFF_FOR_MS;
      return off ? read.with(InputLine.ARM_KEY, false) : read;
    }

    @Override
    public Outputs drive(Outputs outputs) {
      if (planted == Planted.THROWS && witness.ms >= THROWS_AT_MS) {
        throw new IllegalStateException("planted");
      }
      if (!witness.tripped && (outputs.highBits() & Bits.ENERGY) != 0) {
        energised = outputs;
        energisedAtMs = witness.ms;
      }
      filledAtMs = outputs.isHigh(OutputLine.BANK_FILL) ? witness.ms : filledAtMs;
      Outputs wrong = wrong(outputs);
      last = wrong;
      Outputs driven = sound.drive(wrong);
      return wrong.equals(outputs) ? driven : outputs;
    }

    /** What stands at the pins instead; what is read back looks as it was meant. */
    private Outputs wrong(Outputs outputs) {
      boolean fires = outputs.isHigh(OutputLine.COIL_FIRE);
      return switch (planted) {
        case NEVER_READY -> outputs.with(OutputLine.LAMP_READY, false);
        case STRAY_HOLD ->
            within(STRAY_AT_MS, STRAY_FOR_MS) ? outputs.and(OutputLine.BANK_HOLD) : outputs;
        case FILL_IN_FIRE -> fires ? outputs.and(OutputLine.BANK_FILL) : outputs;
        case BLEED_IN_FILL ->
            outputs.isHigh(OutputLine.BANK_FILL)
                ? outputs.with(OutputLine.BANK_HOLD, false)
                : outputs;
        case KEPT_PLAN -> again(KEPT_AT_MS) ? energised : outputs;
        case LATE_GATE ->
            again(LATE_GATE_AT_MS) && openedInUse() ? outputs.and(OutputLine.COIL_FIRE) : outputs;
        case GATE_KEPT -> gateKept(outputs);
        default -> outputs;
      };
    }

    private boolean within(long fromMs, long forMs) {
      return witness.ms >= fromMs && witness.ms < fromMs + forMs;
    }

    /** Some time after a trip. */
    private boolean again(long afterMs) {
      return witness.tripped && within(witness.trippedAtMs + afterMs, KEPT_FOR_MS);
    }

    private boolean openedInUse() {
      return CHAIN_TRIPS.contains(witness.tripCode)
          && witness.trippedAtMs - energisedAtMs < KEPT_FOR_MS;
    }

    private Outputs gateKept(Outputs outputs) {
      if (outputs.isHigh(OutputLine.COIL_FIRE) && !last.isHigh(OutputLine.COIL_FIRE)) {
        gateRoseAtMs = witness.ms;
      }
      return !witness.tripped && within(gateRoseAtMs, GATE_KEPT_MS)
          ? outputs.and(OutputLine.COIL_FIRE)
          : outputs;
    }

    @Override
    public void close() {
      sound.close();
    }
  }

  private final class WrongLedger implements Ledger {
    private final Ledger sound;

    WrongLedger(Ledger sound) {
      this.sound = sound;
    }

    @Override
    public long nextNumber() {
      return sound.nextNumber();
    }

    @Override
    public void append(EventDraft draft) {
      sound.append(new EventDraft(wrong(draft.event()), draft.atNs(), draft.wall()));
      if (planted == Planted.SECOND_OUTCOME && draft.event() instanceof ActEvent.PulseEnded) {
        sound.append(draft);
      }
    }

    private LedgerEvent wrong(LedgerEvent event) {
      if (planted == Planted.FIRED_NOTHING
          && event instanceof ActEvent.PulseEnded ended
          && ended.outcome().equals("misfired")) {
        return closedAs("delivered", ended);
      }
      if (planted == Planted.WRONG_OUTCOME
          && event instanceof ActEvent.PulseEnded ended
          && ended.outcome().equals("delivered")) {
        return closedAs("not fired", ended);
      } else if (planted == Planted.WRONG_READING
          && event instanceof LedgerEvent.ReadingTaken reading) {
        return elsewhere(reading);
      } else if (planted == Planted.HIGH_INTENT
          && event instanceof ActEvent.PulseIntended intended) {
        return high(intended);
      }
      return event;
    }

    private static LedgerEvent closedAs(String outcome, ActEvent.PulseEnded ended) {
      return new ActEvent.PulseEnded(
          ended.intent(),
          ended.magnet(),
          outcome,
          ended.token(),
          ended.bootId(),
          ended.bankBeforeMilliVolts(),
          ended.bankAfterMilliVolts(),
          ended.peakForwardMilliAmps(),
          ended.peakReverseMilliAmps(),
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
}
