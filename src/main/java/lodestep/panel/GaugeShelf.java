package lodestep.panel;

import java.util.List;
import java.util.Optional;
import lodestep.ledger.GaugeRecord;
import lodestep.ledger.StudyRecord;
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
   * Begins a guided study of what one seating is worth.
   *
   * @throws IllegalArgumentException with one sentence, if such a study tells nothing
   */
  Bench.Answer study(Placement order);

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
   * A study in which one magnet is seated again and again.
   *
   * @param nest of this rig
   * @param magnet what the person calls it
   * @param times how often it is seated
   * @param tolerance half width of the band that the gauge is to tell; empty if none is named
   */
  record Placement(String nest, String magnet, int times, Optional<FluxDensity> tolerance) {}
}
