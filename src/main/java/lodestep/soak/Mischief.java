package lodestep.soak;

import java.util.Optional;
import java.util.Set;
import lodestep.bench.LedgerStart;
import lodestep.port.Contacts;
import lodestep.port.HeadLink;
import lodestep.port.InputLine;
import lodestep.port.Ledger;
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

  private static final int LID_SHUT =
      HeadFlag.LID_A.bit() | HeadFlag.LID_B.bit() | HeadFlag.CHAIN.bit();

  private final SoakRig rig;
  private final Planted planted;
  private final Witness witness;
  private boolean lidWasOpen;
  private boolean lidHides;
  private long filledAtMs = Witness.NEVER;

  Mischief(SoakRig rig, Planted planted, Witness witness) {
    this.rig = rig;
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
    return planted == Planted.NOTHING ? sound : new WrongLedger(sound, planted);
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

  /** While the switch is to be proven, nothing is there that it could block. */
  private boolean hidesFeed() {
    return planted == Planted.SWITCH_UNPROVEN && witness.state == RigState.FEED_PROOF;
  }

  /** The head's own copies of the contacts tell the same as the host's. */
  private int wrongFlags(int flags) {
    int wrong = hidesBleed() || hidesFeed() ? flags & ~HeadFlag.BLEED_CONTACT.bit() : flags;
    return lidHides ? wrong | LID_SHUT : wrong;
  }

  private final class WrongLines implements Lines {
    private final Lines sound;
    private Outputs last = Outputs.ALL_LOW;
    private Outputs energised = Outputs.ALL_LOW;
    private long energisedAtMs = Witness.NEVER;
    private long gateRoseAtMs = Witness.NEVER;
    private boolean driven;

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
        case SWITCH_UNPROVEN ->
            read.with(
                InputLine.BLEED_CONTACT, read.closed(InputLine.BLEED_CONTACT) && !hidesFeed());
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
            within(STRAY_AT_MS, STRAY_FOR_MS) ? outputs.and(rig.energises()) : outputs;
        case FILL_IN_FIRE -> fires ? outputs.and(OutputLine.BANK_FILL) : outputs;
        case BLEED_IN_FILL ->
            outputs.isHigh(OutputLine.BANK_FILL)
                ? outputs.with(OutputLine.BANK_HOLD, false)
                : outputs;
        case KEPT_PLAN -> again(KEPT_AT_MS) ? energised : outputs;
        case LATE_GATE ->
            again(LATE_GATE_AT_MS) && openedInUse() ? outputs.and(OutputLine.COIL_FIRE) : outputs;
        case GATE_KEPT -> gateKept(outputs);
        case LADDER_SLIPS -> fires ? turned(outputs, OutputLine.LADDER_1) : outputs;
        case SWITCH_UNPROVEN ->
            outputs.with(OutputLine.COIL_ON, outputs.isHigh(OutputLine.COIL_ON) && !proving());
        case WRONG_LEVEL -> ladder(outputs) ? turned(outputs, OutputLine.LADDER_3) : outputs;
        case FILL_AWAY ->
            outputs.isHigh(OutputLine.JIG_ENABLE)
                ? outputs.and(OutputLine.BANK_HOLD).and(OutputLine.BANK_FILL)
                : outputs;
        case TO_AND_FRO -> toAndFro(outputs);
        default -> outputs;
      };
    }

    /** The scan that first puts the feed on belongs to the state before. */
    private boolean proving() {
      return witness.state == RigState.PROOF_LEVEL || witness.state == RigState.FEED_PROOF;
    }

    private static Outputs turned(Outputs outputs, OutputLine line) {
      return outputs.with(line, !outputs.isHigh(line));
    }

    private static boolean ladder(Outputs outputs) {
      return OutputLine.LADDER.stream().anyMatch(outputs::isHigh);
    }

    /** Once it was driven the driver stays on. */
    private Outputs toAndFro(Outputs outputs) {
      driven |= outputs.isHigh(OutputLine.JIG_ENABLE);
      return outputs.with(OutputLine.JIG_ENABLE, driven);
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
}
