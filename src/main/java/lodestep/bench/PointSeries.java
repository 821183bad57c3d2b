package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.dial.RecordedShape;
import lodestep.ledger.MagnetHistory;
import lodestep.magnet.Shape;
import lodestep.measure.Acceptance;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.Judgement;
import lodestep.measure.Seating;
import lodestep.measure.SettledReading;
import lodestep.port.GaugeEvent.PointRead;
import lodestep.port.GaugeEvent.PointsJudged;
import lodestep.port.GaugeEvent.PointsStarted;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.quantity.FluxDensity;

/**
 * One magnet on record read by hand at several points, and what that comes to. Any thread,
 * immutable.
 *
 * <p>The uncertainty of the figure that counts is that of the readings, which share gain and zero,
 * and of the placing, which is each reading's own: a mean of n has it over the root of n.
 *
 * @param subject the magnet
 * @param asked where it is read, and what counts
 * @param nest where
 * @param placed how a magnet lies there
 */
public record PointSeries(Subject subject, PointsAsked asked, NestConfig nest, Seating placed)
    implements SeriesClosing {

  /** The face that will look at the strings. */
  public static final String STRINGS = "strings";

  /** The face opposite. */
  public static final String OTHER = "other";

  /**
   * The magnet.
   *
   * @param northUp whether the strings face is to be north
   * @param target what it is held against, signed as the strings face reads; zero when demagnetised
   * @param tolerance half width; zero when there is nothing to hold it against
   */
  public record Subject(
      long magnet,
      String name,
      Shape shape,
      boolean northUp,
      FluxDensity target,
      FluxDensity tolerance) {

    /** From the record: its newest standing verdict says what it is held against, else its name. */
    public static Subject of(MagnetHistory history) {
      MagnetNamed named = history.identity();
      Optional<VerdictGiven> verdict = history.standingVerdict();
      return new Subject(
          history.magnet(),
          named.name(),
          RecordedShape.of(named),
          named.poleUp().equals("north"),
          FluxDensity.ofMicroTesla(
              verdict.map(VerdictGiven::targetMicroTesla).orElse(named.targetMicroTesla())),
          FluxDensity.ofMicroTesla(
              verdict.map(VerdictGiven::toleranceMicroTesla).orElse(named.toleranceMicroTesla())));
    }
  }

  /** One point on one face, as it is asked for. */
  public record Placed(PointSeries of, PointsAsked.Point point, boolean strings, boolean anew)
      implements Placing {

    @Override
    public String asks() {
      Subject subject = of.subject;
      boolean edge = subject.shape() instanceof Shape.Bar;
      String where =
          !edge || point.part() == 0.5
              ? "the gauge under its middle"
              : "the gauge under the point "
                  + PointsAsked.fromEnd(point, subject.shape()).written()
                  + " from its left end ("
                  + point.words()
                  + ")";
      return (anew ? "put " + subject.name() + " in the " + of.nest.name() : "shift it")
          + ", "
          + where
          + ", its "
          + faceWords()
          + " to the gauge"
          + (anew && !strings && edge ? ", turned over so that its left end stays left" : "");
    }

    private String faceWords() {
      return (strings ? "strings face" : "other face")
          + (of.subject.northUp() == strings ? " (north)" : " (south)");
    }

    @Override
    public String name() {
      return of.subject.name() + ", " + point.words() + " of its " + face() + " face";
    }

    @Override
    public boolean anew() {
      return anew;
    }

    String face() {
      return strings ? STRINGS : OTHER;
    }

    @Override
    public Optional<String> objection(SettledReading reading, Optional<FluxDensity> first) {
      boolean north = reading.value().tesla() > 0;
      return north == (of.subject.northUp() == strings)
          ? Optional.empty()
          : Optional.of(
              "The gauge sees a "
                  + (north ? "north" : "south")
                  + " pole, which is not "
                  + of.subject.name()
                  + "'s "
                  + faceWords()
                  + ": turn it over.");
    }

    @Override
    public List<LedgerEvent> entries(Taken taken) {
      return List.of(
          new PointRead(
              of.subject.magnet(),
              taken.series(),
              face(),
              point.words(),
              Math.round(point.alongMetres(of.subject.shape()) * 1e6),
              taken.fieldMicroTesla(),
              taken.uncertaintyNanoTesla(),
              taken.reading().samples(),
              taken.gaugeCentiDegC(),
              of.nest.name(),
              of.nest.standOff().microMetres(),
              taken.zero(),
              taken.calibration()));
    }
  }

  /** All placings: the strings face first, from one end to the other, then the other face. */
  public List<Placed> placings() {
    List<PointsAsked.Point> along =
        asked.points().stream()
            .sorted((one, other) -> Double.compare(one.part(), other.part()))
            .toList();
    List<Placed> all = new ArrayList<>();
    for (boolean strings : asked.bothFaces() ? new boolean[] {true, false} : new boolean[] {true}) {
      for (int at = 0; at < along.size(); at++) {
        all.add(new Placed(this, along.get(at), strings, at == 0));
      }
    }
    return all;
  }

  /** The work of it. */
  public SeriesWork work(RigConfig rig, GaugeCalibration calibration) {
    LedgerEvent begins =
        new PointsStarted(
            subject.magnet(),
            String.join("\n", asked.points().stream().map(PointsAsked.Point::words).toList()),
            asked.bothFaces() ? "both" : STRINGS,
            asked.counts().words());
    return new SeriesWork(
        nest, calibration, rig.limits(), List.copyOf(placings()), 0, Optional.of(begins), 0, this);
  }

  @Override
  public List<LedgerEvent> entries(long series, List<SettledReading> readings) {
    return List.of(judged(series, readings));
  }

  /**
   * What the readings come to.
   *
   * @param readings one for each placing, in their order
   */
  PointsJudged judged(long series, List<SettledReading> readings) {
    List<Placed> placings = placings();
    double sum = 0;
    double least = Double.POSITIVE_INFINITY;
    double most = 0;
    double weakest = 0;
    double widest = 0;
    int count = 0;
    for (int at = 0; at < placings.size(); at++) {
      Placed placed = placings.get(at);
      double tesla = readings.get(at).value().tesla() * (placed.strings() ? 1 : -1);
      least = Math.min(least, Math.abs(tesla));
      most = Math.max(most, Math.abs(tesla));
      widest = Math.max(widest, readings.get(at).standardUncertainty().tesla());
      if (counts(placed)) {
        weakest = count == 0 || Math.abs(tesla) < Math.abs(weakest) ? tesla : weakest;
        sum += tesla;
        count++;
      }
    }
    boolean one = asked.counts().figure() == PointsAsked.Figure.LEAST;
    double figure = one ? weakest : sum / count;
    double seating = placed.counted() * Math.abs(figure) / (one ? 1 : Math.sqrt(count));
    return judged(
        series, new FluxDensity(figure), new FluxDensity(Math.hypot(widest, seating)), least, most);
  }

  private boolean counts(Placed placed) {
    PointsAsked.Counts counts = asked.counts();
    boolean point = counts.figure() != PointsAsked.Figure.MIDDLE || placed.point().part() == 0.5;
    return point
        && switch (counts.faces()) {
          case STRINGS -> placed.strings();
          case OTHER -> !placed.strings();
          case BOTH -> true;
        };
  }

  private PointsJudged judged(
      long series, FluxDensity figure, FluxDensity u, double least, double most) {
    boolean held = subject.tolerance().tesla() > 0;
    boolean inside =
        held
            && Acceptance.guarded(subject.target(), subject.tolerance()).judge(figure, u)
                == Judgement.ACCEPT;
    return new PointsJudged(
        subject.magnet(),
        series,
        asked.counts().words(),
        figure.microTesla(),
        Math.round(u.tesla() * 1e9),
        Math.round(least * 1e6),
        Math.round(most * 1e6),
        subject.target().microTesla(),
        subject.tolerance().microTesla(),
        inside,
        words(figure, u, held, inside));
  }

  private String words(FluxDensity figure, FluxDensity u, boolean held, boolean inside) {
    String says =
        String.format(
            Locale.ROOT,
            "the %s counts: %s ± %.1f G (k = 2)",
            asked.counts().words(),
            figure.inGauss(),
            2 * u.gauss());
    if (!held) {
      return says;
    }
    return says
        + (inside ? ", inside " : ", not proven inside ")
        + subject.target().inGauss()
        + " ± "
        + subject.tolerance().inGauss();
  }
}
