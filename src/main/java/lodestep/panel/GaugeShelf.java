package lodestep.panel;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.StudyRecord;
import lodestep.port.LedgerArchive;
import lodestep.quantity.FluxDensity;

/** The gauge of a rig that runs: what is on record of it, and what can be begun. Any thread. */
public interface GaugeShelf {

  /** Readings of references, judgements and relations to hand gauges. */
  GaugeRecord record();

  /** Studies of its scatter. */
  StudyRecord studies();

  /** Where its calibration comes from, in words. */
  String calibration();

  /**
   * Begins a guided check by the reference magnet of this name.
   *
   * @throws IllegalArgumentException with one sentence, if the rig names no such reference
   */
  Bench.Answer check(String reference);

  /**
   * Begins a guided study of the gauge's scatter.
   *
   * @throws IllegalArgumentException with one sentence, if such a study tells nothing
   */
  Bench.Answer study(Study order);

  /**
   * Goes on with the newest study that was left open.
   *
   * @throws IllegalArgumentException with one sentence, if there is none, or its nest has changed
   */
  Bench.Answer studyOn();

  /**
   * What is read of the record, by a connection of its own.
   *
   * @throws IllegalArgumentException with one sentence, if there is none yet
   */
  <T> T ofRecord(Function<LedgerArchive, T> reading);

  /**
   * Begins one magnet's charging and knocking down by hand; a name that is on record gets a number.
   *
   * @param form a plan of one row and one magnet
   * @throws IllegalArgumentException with one sentence, if such a plan cannot be worked by hand
   */
  Bench.Answer byHand(PlanForm form);

  /** The cautions for work by hand, each a paragraph. */
  List<String> handCautions();

  /**
   * A study in which magnets are seated again and again.
   *
   * @param nest of this rig
   * @param magnets what the persons call them
   * @param persons who seat them, in a crossed study; none in one of what a seating is worth
   * @param times how often each is seated by each
   * @param tolerance half width of the band that the gauge is to tell; empty if none is named
   */
  record Study(
      String nest,
      List<String> magnets,
      List<String> persons,
      int times,
      Optional<FluxDensity> tolerance) {
    /** The names are kept as they are. */
    public Study {
      magnets = List.copyOf(magnets);
      persons = List.copyOf(persons);
    }
  }
}
