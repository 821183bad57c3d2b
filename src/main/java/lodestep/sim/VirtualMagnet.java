package lodestep.sim;

import java.util.SplittableRandom;
import lodestep.magnet.FaceField;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Hysteresis;
import lodestep.magnet.MagnetModel;
import lodestep.magnet.MagnetState;
import lodestep.magnet.ReversibleTemperature;
import lodestep.magnet.Shape;
import lodestep.magnet.SlowRelaxation;
import lodestep.magnet.Spread;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;
import org.jspecify.annotations.Nullable;

/**
 * One magnet of the virtual rig, with figures of its own. Mutable; the plant's thread only.
 *
 * <p>It keeps the memory of {@link MagnetModel}, drifts after a pulse ({@link SlowRelaxation}),
 * follows temperature reversibly ({@link ReversibleTemperature}) and reads a little different at
 * each seating. Out of scope: eddy currents, shock and irreversible change with temperature. That
 * the magnetisation varies along a magnet is counted in what is read, by {@link FaceModel}, not in
 * how far a pulse reaches.
 */
public final class VirtualMagnet implements SeatedMagnet {

  /** Common practice, no source: five micrometres of stand-off at a third of a per cent for ten. */
  private static final double SEATING_SIGMA = 0.0015;

  /** Common practice, no source: ground rods and bars hold a few hundredths of a millimetre. */
  private static final double SIZE_SIGMA_METRES = 0.02e-3;

  /** Draws are cut off here: nobody ships a magnet further out. */
  private static final double SIGMAS_MAX = 3;

  /** Common practice, no source: a little more than half of the stock comes uncharged. */
  private static final double UNCHARGED_FRACTION = 0.6;

  /**
   * The creeping is worked out again once the time since the pulse has grown by this part: it has
   * moved by less than two parts in ten million by then, and a logarithm each millisecond is saved.
   */
  private static final long CREEP_GROWTH = 256;

  /** A change below this is the solver's last digits and no event in the magnet's life. */
  private static final double UNMOVED_TESLA = 1e-9;

  private final MagnetModel model;
  private final FaceModel kind;
  private final Shape shape;

  /** Of its full charge against the nominal one's. */
  private final double strength;

  private MagnetState state;
  private double polarisation;
  private double carriedLoss;
  private double seating = 1;

  private boolean pulsed = true;
  private long pulsedAtNs;

  /** How long it has lain before the first look after its newest pulse. */
  private long restedNs;

  private long relaxedAtNs;
  private double relaxed;

  private double alongMetres;
  private boolean otherFace;
  private double standOffMetres = Double.NaN;
  private @Nullable FaceField face;
  private double ownShape;

  private VirtualMagnet(MagnetModel model, FaceModel kind, Shape shape) {
    this.model = model;
    this.kind = kind;
    this.shape = shape;
    this.strength = model.chargedPolarisationTesla() / kind.model().chargedPolarisationTesla();
    this.state = model.uncharged();
  }

  /**
   * A supplier's lot: magnets of one kind that are alike among themselves. Immutable.
   *
   * @param loop the lot's usual loop
   */
  public record Lot(FaceModel kind, Hysteresis loop) {

    /** A lot with its figures drawn from the alloy's spread. */
    public static Lot drawn(FaceModel kind, SplittableRandom random) {
      Spread spread = kind.alloy().spread();
      double remanence = 1 + gaussian(random) * spread.remanenceLot();
      double coercivity = 1 + gaussian(random) * spread.coercivityLot();
      return new Lot(kind, kind.model().loop().scaled(remanence, coercivity));
    }
  }

  /**
   * A magnet of a lot of its own, with figures, sizes and state drawn.
   *
   * @param leftNorth the pole that the gauge's face shows if it comes charged
   */
  public static VirtualMagnet of(FaceModel kind, boolean leftNorth, SplittableRandom random) {
    return of(Lot.drawn(kind, random), leftNorth, random);
  }

  /**
   * A magnet of this lot, with figures, sizes and state drawn: uncharged, or left at some level.
   *
   * @param leftNorth the pole that the gauge's face shows if it comes charged
   */
  public static VirtualMagnet of(Lot lot, boolean leftNorth, SplittableRandom random) {
    FaceModel kind = lot.kind();
    Spread spread = kind.alloy().spread();
    double remanence = 1 + gaussian(random) * spread.remanenceMagnet();
    double coercivity = 1 + gaussian(random) * spread.coercivityMagnet();
    Hysteresis loop = lot.loop().scaled(remanence, coercivity);
    Shape own = ownSizes(kind.shape(), random);
    double slimmer = own.demagnetisingFactor() / kind.shape().demagnetisingFactor();
    double factor = Math.min(1, kind.model().demagnetisingFactor() * slimmer);
    VirtualMagnet magnet = new VirtualMagnet(new MagnetModel(loop, factor), kind, own);
    if (random.nextDouble() >= UNCHARGED_FRACTION) {
      double charge =
          magnet.model.saturatingApplied(kind.alloy().saturatingField()).amperesPerMetre();
      double weakened = random.nextDouble() * loop.centreAmperesPerMetre();
      magnet.applyPulse(leftNorth ? charge : weakened, leftNorth ? weakened : charge, leftNorth);
    }
    magnet.reseat(random);
    return magnet;
  }

  /**
   * A pulse has gone through the coil.
   *
   * @param peakForwardAmperesPerMetre largest field that drives the gauge's face north, &ge; 0
   * @param peakReverseAmperesPerMetre largest field of the other sign, &ge; 0
   * @param forwardFirst which came first
   * @throws IllegalArgumentException if a peak is negative, not a number or beyond any coil
   */
  @Override
  public void applyPulse(
      double peakForwardAmperesPerMetre, double peakReverseAmperesPerMetre, boolean forwardFirst) {
    // Negated comparison on purpose: it also rejects NaN.
    if (!(peakForwardAmperesPerMetre >= 0 && peakReverseAmperesPerMetre >= 0)) {
      throw new IllegalArgumentException(
          "a pulse's peaks have no sign: "
              + peakForwardAmperesPerMetre
              + " and "
              + peakReverseAmperesPerMetre
              + " A/m");
    }
    FieldStrength forward = new FieldStrength(peakForwardAmperesPerMetre);
    FieldStrength reverse = new FieldStrength(-peakReverseAmperesPerMetre);
    MagnetState between = model.afterPulse(state, forwardFirst ? forward : reverse);
    state = model.afterPulse(between, forwardFirst ? reverse : forward);
    settleInto(model.polarisationTesla(state));
  }

  /**
   * It lies for a long time before it is looked at first: what time acts as on a magnet that was
   * never knocked down comes off, and the creeping has gone on since its newest pulse.
   *
   * @param seconds since that pulse, at most a hundred years
   */
  public void rest(double seconds) {
    double acts = SlowRelaxation.actsAs(1, 1 + seconds).amperesPerMetre();
    boolean north = polarisation > 0;
    applyPulse(north ? 0 : acts, north ? acts : 0, !north);
    restedNs = (long) (seconds * 1e9);
  }

  /**
   * What was lost by creeping is the part nearest to reversal, which the next stronger reverse
   * pulse would have taken first: a knock-down smaller than the loss takes nothing more, and a
   * weaker pulse, which moves nothing, does not begin the creeping again.
   */
  private void settleInto(double after) {
    double change = Math.abs(after - polarisation);
    if (change <= UNMOVED_TESLA) {
      return;
    }
    boolean knockedDown =
        after * polarisation > 0 && Math.abs(after) < Math.abs(polarisation) && !pulsed;
    carriedLoss = knockedDown ? Math.max(0, Math.abs(after) - Math.abs(relaxed)) : 0;
    polarisation = after;
    pulsed = true;
    restedNs = 0;
  }

  /**
   * Flux density off the middle of the face in tesla, positive where the face is north.
   *
   * @param standOffMetres distance of the gauge's element from the face, &ge; 0
   * @param temperatureKelvin of the magnet
   * @param nowNs monotonic time, not before the last; the creeping after a pulse begins with the
   *     first look after it
   */
  @Override
  public double faceFieldTesla(double standOffMetres, double temperatureKelvin, long nowNs) {
    FaceField at = face;
    if (at == null || standOffMetres != this.standOffMetres) {
      Length standOff = new Length(standOffMetres);
      at = kind.at(standOff, alongMetres);
      ownShape =
          perTesla(shape, standOff, alongMetres) / perTesla(kind.shape(), standOff, alongMetres);
      this.standOffMetres = standOffMetres;
      face = at;
    }
    if (pulsed) {
      pulsed = false;
      pulsedAtNs = nowNs - restedNs;
      relax(nowNs);
    } else if (nowNs - relaxedAtNs > (relaxedAtNs - pulsedAtNs) / CREEP_GROWTH) {
      relax(nowNs);
    }
    double temperature = ReversibleTemperature.readingFactor(kind.alloy(), temperatureKelvin);
    return at.tesla(relaxed, strength) * ownShape * seating * temperature;
  }

  /** Even polarisation; the place is as far along a magnet that is a little longer or shorter. */
  private static double perTesla(Shape shape, Length standOff, double alongMetres) {
    return alongMetres == 0
        ? shape.faceFieldPerPolarisation(standOff)
        : shape.perTesla().at(shape.readAt(standOff).moved(alongMetres, 0, 0)).zTesla();
  }

  /**
   * How it lies from now on.
   *
   * @param metres where the gauge's element is along its edge, from its middle
   * @param other whether the face opposite the one that will look at the strings is read
   */
  void layAt(double metres, boolean other) {
    if (other != otherFace) {
      turnOver();
      otherFace = other;
    }
    alongMetres = metres;
    face = null;
  }

  private void relax(long nowNs) {
    double seconds = (nowNs - pulsedAtNs) * 1e-9;
    double size = Math.abs(polarisation);
    double loss = Math.max(carriedLoss, size * SlowRelaxation.creptPart(seconds));
    relaxed = Math.copySign(Math.max(0, size - loss), polarisation);
    relaxedAtNs = nowNs;
  }

  /** Factor of this seating on the field read, near 1. */
  public double seatingFactor() {
    return seating;
  }

  @Override
  public double heightMetres() {
    return shape.height().metres();
  }

  /** Put into the nest anew: it sits a little differently. */
  @Override
  public void reseat(SplittableRandom random) {
    seating = 1 + gaussian(random) * SEATING_SIGMA;
  }

  /** Turned upside down: the other face looks at the gauge. */
  @Override
  public void turnOver() {
    state = state.turnedOver();
    polarisation = -polarisation;
    relaxed = -relaxed;
  }

  private static Shape ownSizes(Shape nominal, SplittableRandom random) {
    if (nominal instanceof Shape.Rod rod) {
      return new Shape.Rod(ownSize(rod.diameter(), random), ownSize(rod.length(), random));
    }
    if (nominal instanceof Shape.Ring ring) {
      Length outside = ownSize(ring.outside(), random);
      double widest = outside.metres() - 2 * Shape.SIZE_MIN.metres();
      double inside = Math.min(widest, ownSize(ring.inside(), random).metres());
      return new Shape.Ring(outside, new Length(inside), ownSize(ring.length(), random));
    }
    Shape.Bar bar = (Shape.Bar) nominal;
    return new Shape.Bar(
        ownSize(bar.length(), random),
        ownSize(bar.width(), random),
        ownSize(bar.thickness(), random),
        bar.axis());
  }

  private static Length ownSize(Length nominal, SplittableRandom random) {
    double drawn = nominal.metres() + gaussian(random) * SIZE_SIGMA_METRES;
    double bounded = Math.max(Shape.SIZE_MIN.metres(), Math.min(Shape.SIZE_MAX.metres(), drawn));
    return new Length(bounded);
  }

  private static double gaussian(SplittableRandom random) {
    double drawn = random.nextGaussian();
    return Math.max(-SIGMAS_MAX, Math.min(SIGMAS_MAX, drawn));
  }
}
