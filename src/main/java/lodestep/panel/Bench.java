package lodestep.panel;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.bench.TimeLeft;
import lodestep.config.RigConfig;
import lodestep.device.BankLeft;
import lodestep.ledger.ContactLife;
import lodestep.ledger.MagnetHistory;
import lodestep.port.Command;
import lodestep.port.TripCause;

/**
 * The running program as the page needs it. Any thread. {@link #look} and {@link #stop} never
 * block; the others may read the record or work something out, and none holds the control loop up.
 */
public interface Bench {

  /** The newest look at the rig. */
  Look look();

  /** Asks for a stop; the next scan lets go of everything. */
  void stop();

  /** Hands a command to the job under way. */
  Answer tell(Command command);

  /** Begins a batch of this plan, if nothing else is under way. */
  Answer begin(PlanForm form);

  /** Goes on with the batch that the last run left open. */
  Answer goOn();

  /** The name of a batch that was left open, if there is one and nothing is under way. */
  Optional<String> leftOpen();

  /** By what the end of the newest batch could be expected when it began. */
  TimeLeft.Known known();

  /** Seconds of the rig's own time in a second of this computer's, &gt; 0; 1 on a real rig. */
  double speed();

  /** What drawn hands do; refused on a real rig. */
  Answer hand(HandAct act);

  /** What a person does to the live reading, which is not on record. */
  Answer gauge(GaugeAct act);

  /** Reads a plan, and says what this rig can do of it; nothing is begun. */
  PlanCheck check(PlanForm form);

  /** Plans of this record, the newest first. */
  List<PlanForm> recent();

  /** The names of the alloys that this rig's book knows. */
  List<String> alloys();

  /**
   * Magnets on record by name, set or number, the newest first.
   *
   * @param words part of a name; empty for the newest of all
   */
  List<Found> find(String words);

  /** All that is on record of one magnet. */
  Optional<MagnetHistory> history(long magnet);

  /** The rig as its description was understood. */
  RigConfig rig();

  /** The same in lines for a person. */
  String rigWords();

  /** What stands on record of rig and ledger, in pairs of a word and a sentence. */
  List<Fact> facts();

  /** How much of the relays' life is used; empty where the rig has none. */
  Optional<ContactLife> contacts();

  /** How much of its capacitance the bank has left; empty where the rig has none. */
  Optional<BankLeft> bankLeft();

  /** How punctual the control loop has been since it began. */
  Punctual punctual();

  /**
   * How punctual the control loop has been, by this computer's clock, also where the rig's own time
   * is virtual.
   *
   * @param overruns scans that came more than 20 ms late, so that nothing would be fired in them
   * @param worstLateSeconds the latest of all
   */
  record Punctual(long scans, long overruns, double worstLateSeconds) {

    /**
     * The same in a sentence for a person.
     *
     * @param virtual whether the rig's own time is virtual
     */
    public String sentence(boolean virtual) {
      return String.format(
          Locale.ROOT,
          "%,d scans, %,d of them more than 20 ms late by this computer's clock, the latest by"
              + " %.1f ms%s",
          scans,
          overruns,
          1e3 * worstLateSeconds,
          virtual ? "; in the virtual rig's own time none is late" : "");
    }
  }

  /** The cautions, as every command shows them. */
  List<String> cautions();

  /**
   * What became of something asked.
   *
   * @param entry that it made in the record; 0 if none
   */
  record Answer(boolean done, String sentence, long entry) {
    /** It was done, or handed over. */
    public static Answer yes(String sentence) {
      return new Answer(true, sentence, 0);
    }

    /** It is on record as this entry. */
    public static Answer kept(String sentence, long entry) {
      return new Answer(true, sentence, entry);
    }

    /** It was not, and why. */
    public static Answer no(String sentence) {
      return new Answer(false, sentence, 0);
    }
  }

  /** What a person does to the live reading. */
  enum GaugeAct {
    /** Holds what is shown, or lets it go. */
    HOLD,
    /** Forgets smallest and largest. */
    RESET,
    /** Takes a zero for the live reading, with the seat empty. */
    ZERO
  }

  /**
   * What a plan comes to on this rig.
   *
   * @param errors what is wrong with it, by field; empty if it can be begun
   * @param doubts what may well not be had
   * @param rows what is known of each row
   * @param batch the batch it would be
   */
  record PlanCheck(
      List<String> errors, List<String> doubts, List<String> rows, Optional<Batch> batch) {
    /** All lists are kept as they are. */
    public PlanCheck {
      errors = List.copyOf(errors);
      doubts = List.copyOf(doubts);
      rows = List.copyOf(rows);
    }
  }

  /**
   * A magnet on record.
   *
   * @param verdict that stands, or empty
   * @param readTesla its newest settled reading, signed; not a number if there is none
   */
  record Found(
      long magnet, String name, String set, String kind, String verdict, double readTesla) {}

  /** Something that is so, in words. */
  record Fact(String what, String how) {}

  /**
   * What one interlock says.
   *
   * @param enforcers who acts on it: this program, the head, the hard-wired chain
   */
  record Saying(TripCause cause, boolean present, boolean latched, String enforcers) {}
}
