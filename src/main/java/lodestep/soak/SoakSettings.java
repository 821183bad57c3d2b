package lodestep.soak;

import java.util.List;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.bench.Prepared;
import lodestep.config.RigConfig;
import lodestep.measure.GaugeCalibration;

/**
 * What all runs have in common. Any thread, immutable.
 *
 * @param rig the rig on whose figures the virtual one is built
 * @param stock kinds of magnets and what is asked of them; each run draws some of these; not empty
 */
public record SoakSettings(RigConfig rig, List<Prepared> stock, GaugeCalibration calibration) {

  public SoakSettings {
    stock = List.copyOf(stock);
    if (stock.isEmpty()) {
      throw new IllegalArgumentException("a soak needs at least one magnet");
    }
  }

  /** Settings for the magnets of a plan; some milliseconds a row. */
  public static SoakSettings of(RigConfig rig, List<PlanRow> rows, GaugeCalibration calibration) {
    List<Prepared> stock =
        Entry.planned(rows, rig).stream().map(Entry::prepared).distinct().toList();
    return new SoakSettings(rig, stock, calibration);
  }

  /** The kind of rig that is played. */
  public SoakRig kind() {
    return SoakRig.of(rig);
  }
}
