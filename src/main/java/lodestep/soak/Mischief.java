package lodestep.soak;

import java.util.List;
import java.util.Optional;
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
import lodestep.port.LinkState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;

/** Does what a {@link Planted} mistake says, between the host and its ports. */
final class Mischief {

  /** Long after the first scans, long before any magnet lies in the nest. */
  private static final long STRAY_AT_MS = 600;

  private static final long STRAY_FOR_MS = 20;
  private static final long THROWS_AT_MS = 5_000;
  private static final long KEY_OFF_AFTER_MS = 300;
  private static final long KEY_OFF_FOR_MS = 100;
  private static final long STARTS_EACH_MS = 3_000;
  private static final double WRONG_GAIN = 1.03;
  private static final long HIGH_MILLI_VOLTS = 60_000;

  private static final int LID_SHUT =
      HeadFlag.LID_A.bit() | HeadFlag.LID_B.bit() | HeadFlag.CHAIN.bit();

  private final Planted planted;
  private final Witness witness;
  private boolean lidWasOpen;
  private boolean lidHides;

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
    boolean wrong =
        planted == Planted.ALWAYS_PERMIT
            || planted == Planted.WRONG_GAUGE
            || planted == Planted.STALE_PROOF;
    return wrong ? new WrongHead(sound) : sound;
  }

  Ledger ledger(Ledger sound) {
    return planted == Planted.NOTHING ? sound : new WrongLedger(sound);
  }

  LedgerStart start(LedgerStart sound) {
    return planted == Planted.FORGOTTEN_TRIP
        ? new LedgerStart(sound.prologue(), Optional.empty())
        : sound;
  }

  private final class WrongLines implements Lines {
    private final Lines sound;

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
      long sinceMs = witness.ms - STRAY_AT_MS;
      if (planted == Planted.THROWS && witness.ms >= THROWS_AT_MS) {
        throw new IllegalStateException("planted");
      } else if (planted == Planted.NEVER_READY) {
        sound.drive(outputs.with(OutputLine.LAMP_READY, false));
        return outputs;
      } else if (planted == Planted.STRAY_HOLD && sinceMs >= 0 && sinceMs < STRAY_FOR_MS) {
        sound.drive(outputs.and(OutputLine.BANK_HOLD));
        return outputs;
      }
      return sound.drive(outputs);
    }

    @Override
    public void close() {
      sound.close();
    }
  }

  private final class WrongHead implements HeadLink {
    private final HeadLink sound;

    WrongHead(HeadLink sound) {
      this.sound = sound;
    }

    @Override
    public List<ReceivedFrame> take() {
      return sound.take().stream().map(this::wrong).toList();
    }

    private ReceivedFrame wrong(ReceivedFrame received) {
      if (received.frame() instanceof HeadFrame.Status status) {
        double gain = planted == Planted.WRONG_GAUGE ? WRONG_GAIN : 1;
        int more = planted == Planted.STALE_PROOF && lidHides ? LID_SHUT : 0;
        return new ReceivedFrame(wrong(status, gain, more), received.receivedAtNs());
      }
      return received;
    }

    private static HeadFrame wrong(HeadFrame.Status status, double gain, int moreFlags) {
      return new HeadFrame.Status(
          status.sequence(),
          status.bootId(),
          status.clockMs(),
          status.sampleCounter(),
          (int) Math.round(status.hallCounts() * gain),
          status.gaugeCentiDegC(),
          status.coilCentiDegC(),
          status.bankMilliVolts(),
          status.coilMilliAmps(),
          status.positionMicroMetres(),
          status.flags() | moreFlags);
    }

    @Override
    public LinkState state(long nowNs) {
      return sound.state(nowNs);
    }

    @Override
    public void offer(HeadRequest request) {
      sound.offer(
          planted == Planted.ALWAYS_PERMIT && request instanceof HeadRequest.Heartbeat beat
              ? new HeadRequest.Heartbeat(beat.sequence(), true)
              : request);
    }

    @Override
    public void stop() {
      sound.stop();
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
      if (planted == Planted.WRONG_OUTCOME
          && event instanceof ActEvent.PulseEnded ended
          && ended.outcome().equals("delivered")) {
        return notFired(ended);
      } else if (planted == Planted.WRONG_READING
          && event instanceof LedgerEvent.ReadingTaken reading) {
        return elsewhere(reading);
      } else if (planted == Planted.HIGH_INTENT
          && event instanceof ActEvent.PulseIntended intended) {
        return high(intended);
      }
      return event;
    }

    private static LedgerEvent notFired(ActEvent.PulseEnded ended) {
      return new ActEvent.PulseEnded(
          ended.intent(),
          ended.magnet(),
          "not fired",
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
      return sound.state();
    }

    @Override
    public void close() {
      sound.close();
    }
  }
}
