package lodestep.magnet;

import java.util.Arrays;
import java.util.List;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.hipparchus.analysis.solvers.BrentSolver;

/**
 * What a kind of magnet, of one alloy and shape, reads off the middle of its pole face, or of a
 * ring's wall. Any thread, immutable. Takes 20 to 200 ms to work out: make one for each kind.
 *
 * <p>{@link ResolvedMagnet} says what the kind reads fully charged and at some levels below. A
 * {@link MagnetModel} keeps the memory of pulses, as it can be asked millions of times; its factor
 * is not the textbook's of an even magnetisation but the one with which its full charge is the
 * resolved one's mean, and {@link FaceField} leads from its polarisation to the resolved reading.
 *
 * <p>Below {@value #LEAST_PART} of the full charge the ratio of the two is taken as constant: what
 * is near the faces and what is deep inside go through zero at different pulses there, and which of
 * them is ahead depends on more than the mean. Readings are off by up to 4 per cent of the full
 * charge there; {@link FaceField#holds} says where that begins, and {@link Keeping} what a pulse
 * leaves all the way down. What is read is the mean over the gauge's {@link HallElement}.
 */
public final class FaceModel {

  /** Part of the full charge; see the type. */
  static final double LEAST_PART = 0.15;

  /** Reverse peaks, in coercivities, at which the kind is resolved. */
  private static final double[] PEAKS = {0, 0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.05, 1.2};

  /** Of the textbook's factor: a magnet whose steep stretch is in play has about 0.7 of it. */
  private static final double FACTOR_PART_MIN = 0.3;

  private static final double FACTOR_ACCURACY = 1e-9;
  private static final int EVALUATIONS_MAX = 200;

  private final Alloy alloy;
  private final Shape shape;
  private final MagnetModel model;
  private final double[] meanTesla;
  private final List<ResolvedMagnet.Resolved> resolved;
  private final HallElement element;

  private FaceModel(
      Alloy alloy,
      Shape shape,
      MagnetModel model,
      double[] meanTesla,
      List<ResolvedMagnet.Resolved> resolved,
      HallElement element) {
    this.alloy = alloy;
    this.shape = shape;
    this.model = model;
    this.meanTesla = meanTesla;
    this.resolved = List.copyOf(resolved);
    this.element = element;
  }

  /** Works out a nominal magnet of this kind, read at a point. */
  public static FaceModel of(Alloy alloy, Shape shape) {
    Hysteresis loop = Hysteresis.of(alloy);
    double coercivity = alloy.coercivityJ().amperesPerMetre();
    List<FieldStrength> peaks =
        Arrays.stream(PEAKS).mapToObj(part -> new FieldStrength(part * coercivity)).toList();
    List<ResolvedMagnet.Resolved> left = ResolvedMagnet.of(shape, loop).knockedDown(peaks);
    MagnetModel model = new MagnetModel(loop, factor(loop, shape, left.get(0).meanTesla()));
    MagnetState charged = model.charged();
    double[] means =
        peaks.stream()
            .mapToDouble(peak -> leftTesla(model, charged, peak))
            .takeWhile(mean -> mean >= LEAST_PART * model.polarisationTesla(charged))
            .toArray();
    return new FaceModel(
        alloy, shape, model, means, left.subList(0, means.length), HallElement.POINT);
  }

  /** The same kind read by a gauge of this element. */
  public FaceModel seenBy(HallElement other) {
    return new FaceModel(alloy, shape, model, meanTesla, resolved, other);
  }

  private static double leftTesla(MagnetModel model, MagnetState charged, FieldStrength peak) {
    FieldStrength reverse = new FieldStrength(-peak.amperesPerMetre());
    return model.polarisationTesla(model.afterPulse(charged, reverse));
  }

  /** The factor at which an even magnet's full charge is this mean, or the nearest to it. */
  private static double factor(Hysteresis loop, Shape shape, double meanTesla) {
    double textbook = shape.demagnetisingFactor();
    double least = FACTOR_PART_MIN * textbook;
    if (excess(loop, least, meanTesla) <= 0) {
      return least;
    }
    if (excess(loop, textbook, meanTesla) >= 0) {
      return textbook;
    }
    return new BrentSolver(FACTOR_ACCURACY)
        .solve(EVALUATIONS_MAX, factor -> excess(loop, factor, meanTesla), least, textbook);
  }

  private static double excess(Hysteresis loop, double factor, double meanTesla) {
    return new MagnetModel(loop, factor).chargedPolarisationTesla() - meanTesla;
  }

  /** What it is made of. */
  public Alloy alloy() {
    return alloy;
  }

  /** Nominal shape and sizes. */
  public Shape shape() {
    return shape;
  }

  /** The even magnet that has the resolved one's full charge, and its memory of pulses. */
  public MagnetModel model() {
    return model;
  }

  /**
   * Applied field that saturates it: the alloy's net field and what the shape takes. Near
   * saturation the magnet's susceptibility is small, and the shape takes what the textbook says of
   * an even magnetisation, not the lesser part of one that stands charged by itself.
   */
  public FieldStrength saturating() {
    return new MagnetModel(model.loop(), shape.demagnetisingFactor())
        .saturatingApplied(alloy.saturatingField());
  }

  /**
   * What it reads fully charged, north up.
   *
   * @param standOff from the pole face to the gauge's element, &ge; 0
   */
  public FluxDensity chargedField(Length standOff) {
    return new FluxDensity(reads(resolved.get(0), standOff));
  }

  /**
   * What it reads fully charged on its axis, signed: of a ring over the hole, where the sign turns
   * round a little way off.
   *
   * @param standOff from the pole face, &ge; 0
   */
  public FluxDensity chargedOnAxis(Length standOff) {
    double z = 0.5 * shape.height().metres() + standOff.metres();
    return new FluxDensity(element.reads(resolved.get(0), Place.onAxis(z)));
  }

  /**
   * From polarisation to reading at one stand-off.
   *
   * @param standOff from the pole face to the gauge's element, &ge; 0
   */
  public FaceField at(Length standOff) {
    Place place = shape.readAt(standOff);
    return at(
        place,
        element.isPoint()
            ? shape.faceFieldPerPolarisation(standOff)
            : element.reads(shape.perTesla(), place));
  }

  /**
   * From polarisation to reading beside the middle of the face.
   *
   * @param standOff from the pole face to the gauge's element, &ge; 0
   * @param alongMetres how far from the place where such a magnet is read, along a bar's length
   */
  public FaceField at(Length standOff, double alongMetres) {
    if (alongMetres == 0) {
      return at(standOff);
    }
    Place place = shape.readAt(standOff).moved(alongMetres, 0, 0);
    return at(place, element.reads(shape.perTesla(), place));
  }

  private FaceField at(Place place, double even) {
    double[] parts = new double[meanTesla.length];
    double[] ratios = new double[meanTesla.length];
    double fullTesla = meanTesla[0];
    for (int i = 0; i < parts.length; i++) {
      parts[i] = meanTesla[i] / fullTesla;
      ratios[i] = element.reads(resolved.get(i), place) / (meanTesla[i] * even);
    }
    return new FaceField(fullTesla, even, parts, ratios);
  }

  /** Models of one kind are alike. */
  @Override
  public boolean equals(Object other) {
    return other instanceof FaceModel model
        && alloy.equals(model.alloy)
        && shape.equals(model.shape)
        && element.equals(model.element);
  }

  @Override
  public int hashCode() {
    return 31 * alloy.hashCode() + shape.hashCode();
  }

  @Override
  public String toString() {
    return alloy.name() + ", " + shape.words();
  }

  private double reads(FluxSource source, Length standOff) {
    return element.reads(source, shape.readAt(standOff));
  }
}
