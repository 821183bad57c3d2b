package lodestep.app;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.stream.Collectors;
import lodestep.bench.Continuation;
import lodestep.bench.Entry;
import lodestep.bench.HandGauges;
import lodestep.bench.NestSeatings;
import lodestep.bench.Plan;
import lodestep.bench.PlanReader;
import lodestep.bench.PlanReading;
import lodestep.bench.PlanRow;
import lodestep.bench.PlanRules;
import lodestep.bench.TightestTolerance;
import lodestep.cli.Refusal;
import lodestep.config.RigConfig;
import lodestep.ledger.GaugeRecord;
import lodestep.measure.GaugeCalibration;
import lodestep.port.LedgerArchive;

/**
 * The newest batch that was not brought to its end, ready to go on. Any thread, immutable.
 *
 * @param number of the entry that began it
 * @param entries all of its plan, each with what is on record of it
 * @param virtualSeed of the virtual rig on which it was begun
 */
record LeftOpen(Plan plan, long number, List<Entry> entries, OptionalLong virtualSeed) {

  /**
   * Finds it; empty if the newest batch has ended. Its plan is read as it stood, with the hand
   * gauges that were known then; what is still to be dialed must be told by the gauge of today,
   * which is the one that will judge it.
   *
   * @throws Refusal if a nest's gauge is out of control, or cannot tell a tolerance any more
   */
  static Optional<LeftOpen> of(LedgerArchive archive, RigConfig rig, GaugeCalibration gauge) {
    return Continuation.of(archive).map(going -> of(going, archive, rig, gauge));
  }

  private static LeftOpen of(
      Continuation going, LedgerArchive archive, RigConfig rig, GaugeCalibration gauge) {
    GaugeRecord record = GaugeRecord.of(archive);
    String name = going.started().name();
    Plan plan =
        Wiring.understood(
            asItStood(
                rig, HandGauges.of(record, going.number()), name, going.started().planText()));
    List<Entry> entries = going.entries(Entry.planned(plan.rows(), rig));
    Set<PlanRow> open =
        entries.stream()
            .filter(entry -> !entry.done())
            .map(entry -> entry.prepared().row())
            .collect(Collectors.toUnmodifiableSet());
    GaugeDesk.requireInControl(record, plan);
    requireTold(
        name,
        PlanRules.of(rig, TightestTolerance.of(gauge, NestSeatings.of(archive)))
            .untold(plan.rows().stream().filter(open::contains).toList()));
    return new LeftOpen(plan, going.number(), entries, going.virtualSeed());
  }

  /** A plan that was good when it was begun, whatever the gauge can tell now. */
  static PlanReading asItStood(RigConfig rig, HandGauges known, String name, String text) {
    return new PlanReader(PlanRules.of(rig, TightestTolerance.NONE, known)).read(name, text);
  }

  private static void requireTold(String name, List<String> untold) {
    if (!untold.isEmpty()) {
      throw new Refusal(
          "the batch "
              + name
              + " cannot go on: "
              + String.join("; ", untold)
              + "; what is accepted stays accepted, and what is left can be dialed by a plan of its"
              + " own");
    }
  }
}
