package lodestep.dial;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.port.LedgerEvent;

/**
 * What the readings of one magnet have shown of its knock-down curve: for each charge after which
 * it was knocked down the state after the charge, then one point for each reverse pulse, peaks
 * growing. Any thread, immutable.
 *
 * @param charges at least one, each of at least two points
 */
public record MagnetCurve(List<List<Progress.Point>> charges) {

  private static final double TESLA_PER_STEP = 1e-6;
  private static final double FIELD_STEPS = 1e3;

  public MagnetCurve {
    charges = charges.stream().map(List::copyOf).toList();
  }

  /** What an attempt has shown; empty if it never knocked a full charge down. */
  static Optional<MagnetCurve> of(Dial dial) {
    if (dial.progress().counts().charges() == 0) {
      return Optional.empty();
    }
    List<List<Progress.Point>> shown =
        dial.progress().rounds().stream().filter(round -> round.size() > 1).toList();
    return shown.isEmpty() ? Optional.empty() : Optional.of(new MagnetCurve(shown));
  }

  /** What an ended attempt has shown that later magnets may go by. */
  public static Optional<MagnetCurve> taught(Dial dial, Move.Finish finish) {
    return finish.verdict() == Verdict.TRIPPED ? Optional.empty() : of(dial);
  }

  /**
   * As it stands in records, point by point.
   *
   * @param work the attempt that showed it
   */
  public List<LedgerEvent> events(Work work) {
    List<LedgerEvent> events = new ArrayList<>();
    for (int charge = 0; charge < charges.size(); charge++) {
      List<Progress.Point> points = charges.get(charge);
      long full = steps(points.get(0).levelTesla());
      for (Progress.Point point : points.subList(1, points.size())) {
        events.add(
            new LedgerEvent.CurvePoint(
                work.kind(),
                work.magnet(),
                work.attempt(),
                charge + 1L,
                full,
                Math.round(point.fieldAperM() * FIELD_STEPS),
                steps(point.levelTesla())));
      }
    }
    return events;
  }

  private static long steps(double tesla) {
    return Math.round(tesla / TESLA_PER_STEP);
  }

  /**
   * With one more point from the record.
   *
   * @param before the curve so far, empty for the first point
   */
  public static MagnetCurve with(Optional<MagnetCurve> before, LedgerEvent.CurvePoint point) {
    List<List<Progress.Point>> charges =
        new ArrayList<>(before.map(MagnetCurve::charges).orElse(List.of()));
    if (charges.size() < point.charge()) {
      charges.add(List.of(new Progress.Point(0, point.fullMicroTesla() * TESLA_PER_STEP)));
    }
    int newest = charges.size() - 1;
    List<Progress.Point> points = new ArrayList<>(charges.get(newest));
    points.add(
        new Progress.Point(
            point.fieldMilliAmperesPerMetre() / FIELD_STEPS,
            point.levelMicroTesla() * TESLA_PER_STEP));
    charges.set(newest, points);
    return new MagnetCurve(charges);
  }
}
