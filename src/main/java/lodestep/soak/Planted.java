package lodestep.soak;

import java.util.List;
import lodestep.port.Contacts;
import lodestep.port.EventDraft;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;
import lodestep.port.Lines;
import lodestep.port.Outputs;

/**
 * A mistake planted between host and ports, which a run must find: a harness that finds nothing
 * proves nothing until it has been seen to find something. Any thread, immutable.
 */
public enum Planted {
  /** No mistake. */
  NOTHING("nothing", List.of()),
  /** A stray write holds the bank although nobody has pressed the pedal. */
  STRAY_HOLD("a stray write raises bank_hold", List.of("INV-14", "INV-15")),
  /** Each pulse is closed a second time. */
  SECOND_OUTCOME("each pulse is closed twice", List.of("INV-16")),
  /** The disk says that it has synced and has not, and then the program is killed. */
  LOST_ROW("the disk loses what it has acknowledged", List.of("INV-19"));

  /** Long after the first scans, long before any magnet lies in the nest. */
  private static final long STRAY_AT_MS = 700;

  private static final int STRAY_FOR_MS = 20;

  private final String words;
  private final List<String> rules;

  Planted(String words, List<String> rules) {
    this.words = words;
    this.rules = rules;
  }

  /** What is wrong, in words. */
  public String words() {
    return words;
  }

  /** The rules of which one must be seen broken; none when nothing is planted. */
  public List<String> rules() {
    return rules;
  }

  Lines lines(Lines sound, Witness witness) {
    return this == STRAY_HOLD ? new StrayLines(sound, witness) : sound;
  }

  Ledger ledger(Ledger sound) {
    return this == SECOND_OUTCOME ? new TwiceLedger(sound) : sound;
  }

  private record StrayLines(Lines sound, Witness witness) implements Lines {
    @Override
    public Contacts read(long nowNs) {
      return sound.read(nowNs);
    }

    @Override
    public Outputs drive(Outputs outputs) {
      long sinceMs = witness.ms - STRAY_AT_MS;
      boolean stray = sinceMs >= 0 && sinceMs < STRAY_FOR_MS;
      Outputs read = sound.drive(stray ? new Outputs(outputs.highBits() | Bits.HOLD) : outputs);
      return stray ? outputs : read;
    }

    @Override
    public void close() {
      sound.close();
    }
  }

  private record TwiceLedger(Ledger sound) implements Ledger {
    @Override
    public long nextNumber() {
      return sound.nextNumber();
    }

    @Override
    public void append(EventDraft draft) {
      sound.append(draft);
      if (draft.event() instanceof LedgerEvent.PulseEnded) {
        sound.append(draft);
      }
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
