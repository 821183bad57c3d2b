package lodestep.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.quantity.FluxDensity;

/**
 * Judges a gauge by what it reads on one reference magnet in one nest, again and again. Any thread,
 * immutable.
 *
 * <p>Two things are asked of the newest reading: that it agrees with the certificate within what
 * both are known to (with a coverage of about 95 per cent), and, once enough readings are there,
 * that no pattern of the control chart ends with it. The chart is drawn up from the first readings
 * that were found in order.
 *
 * @param certificate what the magnet reads in this nest by its certificate, signed
 * @param certificateUncertainty standard, in tesla
 * @param seating how a magnet lies in this nest
 * @param points oldest first; the newest is the one to be judged
 */
public record GaugeControl(
    FluxDensity certificate,
    StandardUncertainty certificateUncertainty,
    Seating seating,
    List<Point> points) {

  /** Expanded over standard uncertainty of the comparison. */
  private static final double COVERAGE = 2;

  /**
   * One reading.
   *
   * @param value signed
   * @param uncertainty standard, in tesla, placement not counted
   * @param restarts whether something was mended before it: patterns begin anew with it
   * @param good whether it was judged and found in order
   */
  public record Point(
      FluxDensity value, StandardUncertainty uncertainty, boolean restarts, boolean good) {}

  public GaugeControl {
    points = List.copyOf(points);
  }

  /** The chart, in tesla; empty while too few readings in order are there, or none differs. */
  public Optional<IndividualsChart> chart() {
    List<Double> baseline =
        points.stream()
            .filter(Point::good)
            .limit(IndividualsChart.POINTS_FULL)
            .map(point -> point.value().tesla())
            .toList();
    boolean scatters = baseline.stream().distinct().count() > 1;
    return baseline.size() >= IndividualsChart.POINTS_MIN && scatters
        ? Optional.of(IndividualsChart.of(baseline))
        : Optional.empty();
  }

  /** Readings since something was last mended, in tesla. */
  public List<Double> since() {
    List<Double> run = new ArrayList<>();
    for (Point point : points) {
      if (point.restarts()) {
        run.clear();
      }
      run.add(point.value().tesla());
    }
    return List.copyOf(run);
  }

  /**
   * What the newest reading says against the gauge, one sentence each; empty if it is in control.
   *
   * @throws IllegalStateException if there is no reading
   */
  public List<String> objections() {
    if (points.isEmpty()) {
      throw new IllegalStateException("a gauge is judged by a reading");
    }
    List<String> found = new ArrayList<>();
    Point newest = points.get(points.size() - 1);
    double off = newest.value().tesla() - certificate.tesla();
    double allowed = allowedTesla(newest);
    if (Math.abs(off) > allowed) {
      found.add(
          String.format(
              Locale.ROOT,
              "it reads %s where the certificate says %s: off by %+.1f G, and ± %.1f G is what both"
                  + " are known to",
              newest.value().inGauss(),
              certificate.inGauss(),
              new FluxDensity(off).gauss(),
              new FluxDensity(allowed).gauss()));
    }
    List<Double> run = since();
    chart()
        .ifPresent(
            chart ->
                chart.signals(run, IndividualsChart.RULES).stream()
                    .filter(signal -> signal.point() == run.size() - 1)
                    .forEach(signal -> found.add("its chart shows " + signal.rule().sees())));
    return List.copyOf(found);
  }

  /** By how much the reading may differ from the certificate. */
  private double allowedTesla(Point point) {
    double placed = seating.counted() * certificate.tesla();
    return COVERAGE
        * StandardUncertainty.combined(
                List.of(
                    point.uncertainty(),
                    certificateUncertainty,
                    StandardUncertainty.known(Math.abs(placed))))
            .value();
  }
}
