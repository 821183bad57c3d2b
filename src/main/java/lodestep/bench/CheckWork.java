package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import lodestep.config.Limits;
import lodestep.config.NestConfig;
import lodestep.config.ReferenceConfig;
import lodestep.config.RigConfig;
import lodestep.ledger.GaugeRecord;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.GaugeControl;
import lodestep.measure.GaugeControl.Point;
import lodestep.measure.Seating;
import lodestep.measure.SettledReading;
import lodestep.measure.StandardUncertainty;
import lodestep.port.GaugeEvent.ReferenceRead;
import lodestep.quantity.FluxDensity;

/**
 * One check of the gauge in one nest, and what was read there before. Any thread, immutable.
 *
 * @param calibration of the gauge
 * @param seating how a magnet lies in the nest
 * @param limits of the rig
 * @param earlier readings of this reference in this nest, oldest first
 */
public record CheckWork(
    ReferenceConfig reference,
    NestConfig nest,
    GaugeCalibration calibration,
    Seating seating,
    Limits limits,
    List<Point> earlier) {

  /** The stage of a reading before anything is mended. */
  public static final String AS_FOUND = "as found";

  /** The stage of one after it. */
  public static final String AS_LEFT = "as left";

  public CheckWork {
    earlier = List.copyOf(earlier);
  }

  /** The check of this reference on this rig, with what is on record of it. */
  public static CheckWork of(
      RigConfig rig,
      ReferenceConfig reference,
      GaugeCalibration calibration,
      GaugeRecord record,
      NestSeatings seatings) {
    return new CheckWork(
        reference,
        rig.nest(reference.nest()),
        calibration,
        seatings.in(rig.nest(reference.nest())),
        rig.limits(),
        points(record, reference.name(), rig.nest(reference.nest())));
  }

  /** What was read of this reference in this nest. */
  public static List<Point> points(GaugeRecord record, String reference, NestConfig nest) {
    List<Point> points = new ArrayList<>();
    for (GaugeRecord.Entry<ReferenceRead> entry : record.readingsOf(reference, nest)) {
      ReferenceRead read = entry.event();
      points.add(
          new Point(
              FluxDensity.ofMicroTesla(read.fieldMicroTesla()),
              StandardUncertainty.known(read.uncertaintyNanoTesla() * 1e-9),
              read.stage().equals(AS_LEFT),
              record.inControl(entry.number())));
    }
    return List.copyOf(points);
  }

  /**
   * The gauge with one more reading, to be judged.
   *
   * @param mended whether something was mended before it
   */
  GaugeControl with(SettledReading reading, boolean mended) {
    List<Point> points = new ArrayList<>(earlier);
    points.add(new Point(reading.value(), reading.uncertainty(), mended, false));
    return control(reference, seating, points);
  }

  /** The gauge by what it read of a reference magnet; the newest point is the one to be judged. */
  public static GaugeControl control(
      ReferenceConfig reference, Seating seating, List<Point> points) {
    return new GaugeControl(
        reference.value(),
        StandardUncertainty.known(reference.standardUncertainty().tesla()),
        seating,
        points);
  }

  /** The same with a reading that was judged. */
  CheckWork after(SettledReading reading, boolean mended, boolean good) {
    List<Point> points = new ArrayList<>(earlier);
    points.add(new Point(reading.value(), reading.uncertainty(), mended, good));
    return new CheckWork(reference, nest, calibration, seating, limits, points);
  }
}
