package lodestep.cli;

import static lodestep.cli.GaugeCommands.understood;
import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lodestep.config.ReferenceConfig;
import lodestep.config.RigConfig;
import lodestep.ledger.GaugeRecord;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.Seating;
import lodestep.port.GaugeEvent.ReferenceRead;
import lodestep.port.LedgerEvent.CalibrationSet;
import lodestep.quantity.FluxDensity;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** A calibration of the gauge by a reference magnet that was read. */
@Command(
    name = "calibrate",
    description = "Sets the gauge's calibration by a reference magnet's newest reading.",
    footer = {
      "",
      "After a check that found the gauge off, and once it is sure that the gauge and",
      "not the magnet, the nest or the spacer has changed: the gain is set so that the",
      "reading would have been the certificate's. The calibration goes on record, and",
      "every later reading names it. Then check again: lodestep gauge check reads the",
      "magnet as left, and only that lets work begin.",
      "",
      "Example: lodestep gauge calibrate --reference \"house rod\""
    })
final class CalibrateCommand extends Asked {

  /** Expanded over standard uncertainty of the change. */
  private static final double KNOWN = 2;

  private final Desk desk;

  @Mixin private GaugeCheckCommands.Whose whose = new GaugeCheckCommands.Whose();

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  CalibrateCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    RigConfig rig = whose.rig(desk);
    ReferenceConfig reference = whose.reference(rig);
    Path record = whose.ledger(desk);
    GaugeRecord known = desk.program().gauge().gaugeRecord(record);
    List<GaugeRecord.Entry<ReferenceRead>> readings =
        known.readingsOf(reference.name(), rig.nest(reference.nest()));
    if (readings.isEmpty()) {
      throw new Refusal(
          "no reading of the reference "
              + reference.name()
              + " is on record; take one: lodestep gauge check");
    }
    GaugeRecord.Entry<ReferenceRead> newest = readings.get(readings.size() - 1);
    GaugeCalibration before = desk.program().gauge().calibrated(rig, record);
    CalibrationSet set =
        set(reference, newest, before, Seatings.of(desk, rig.nest(reference.nest()), record, null));
    desk.program().gauge().calibrate(rig, record, set, newest.event().calibration());
    double change = set.countsPerTesla() / before.countsPerTesla() - 1;
    if (json) {
      ObjectNode node = Json.object();
      node.put("reference", reference.name());
      node.put("reading", newest.number());
      node.put("change", change);
      node.set("calibration", Json.ofRecord(set));
      desk.print(node);
    } else {
      desk.print(words(set, before, known.inControl(newest.number()), reference.name()));
    }
    return Desk.DONE;
  }

  private static List<String> words(
      CalibrationSet set, GaugeCalibration before, boolean inControl, String reference) {
    double change = set.countsPerTesla() / before.countsPerTesla() - 1;
    List<String> lines = new ArrayList<>();
    lines.add(
        said(
            "The gain is set to %d counts a tesla, %+.2f %% from before, known to %.2f %%"
                + " (k = 1).",
            set.countsPerTesla(), 100 * change, set.gainStandardUncertaintyPpm() * 1e-4));
    if (inControl && Math.abs(change) < KNOWN * known(set, before)) {
      lines.addAll(
          Wrapped.lines(
              "",
              "The gauge was in control, and the change is less than it is known to: what this"
                  + " one reading happened to scatter is now in the gain.",
              MagnetCommands.COLUMNS));
    }
    lines.add("On record. Now check again: lodestep gauge check --reference \"" + reference + "\"");
    return lines;
  }

  /** Relative standard uncertainty of the change. */
  private static double known(CalibrationSet set, GaugeCalibration before) {
    return Math.hypot(
        set.gainStandardUncertaintyPpm() * 1e-6, before.relativeStandardUncertainty());
  }

  private static CalibrationSet set(
      ReferenceConfig reference,
      GaugeRecord.Entry<ReferenceRead> newest,
      GaugeCalibration before,
      Seating seating) {
    ReferenceRead read = newest.event();
    FluxDensity certificate = reference.value();
    double size = certificate.magnitude().tesla();
    // The reading's own uncertainty holds the old gain's, which is not in the new one.
    double noise =
        Math.sqrt(
            Math.max(
                0,
                Math.pow(read.uncertaintyNanoTesla() * 1e-9, 2)
                    - Math.pow(before.relativeStandardUncertainty() * size, 2)));
    double relative =
        Math.hypot(
            Math.hypot(reference.standardUncertainty().tesla() / size, noise / size),
            seating.counted());
    GaugeCalibration after =
        understood(
            () ->
                before.correctedBy(
                    FluxDensity.ofMicroTesla(read.fieldMicroTesla()), certificate, relative));
    return new CalibrationSet(
        Math.round(after.countsPerTesla()),
        Math.round(after.gainPerKelvin() * 1e6),
        Math.round(after.reference().degC() * 100),
        Math.round(after.relativeStandardUncertainty() * 1e6),
        "reference " + reference.name() + " of " + reference.date() + ", entry " + newest.number());
  }
}
