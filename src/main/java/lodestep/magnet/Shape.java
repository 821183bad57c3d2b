package lodestep.magnet;

import java.util.Locale;
import lodestep.quantity.Length;

/**
 * Shape and sizes of a magnet, and the axis along which it is charged. Any thread, immutable.
 *
 * <p>Both field figures take the magnetisation as the same everywhere in the magnet. A real alnico
 * magnet is weaker near its faces, where its own field works against it: the figures over-read by
 * about a fifth to two fifths a millimetre off the face. They serve for ratios and first guesses; a
 * magnetisation resolved along the magnet is to replace them.
 */
public sealed interface Shape {

  /** Smaller is a splinter. */
  Length SIZE_MIN = Length.ofMm(0.5);

  /** Larger does not go into a nest. */
  Length SIZE_MAX = Length.ofMm(200);

  /**
   * Magnetometric demagnetising factor N along the axis of charge, 0 to 1: the mean field inside is
   * H = Ha − N J/µ0.
   */
  double demagnetisingFactor();

  /**
   * Flux density on the axis in tesla, for one tesla of polarisation.
   *
   * @param standOff distance outside the pole face, &ge; 0
   * @throws IllegalArgumentException if the stand-off is negative
   */
  double faceFieldPerPolarisation(Length standOff);

  /** Size along the axis of charge: the height of the magnet as it stands in its nest. */
  Length height();

  /** The shape as the trade writes it: {@code rod 4.90 x 16.50 mm}. */
  String words();

  /**
   * A round magnet charged along its length.
   *
   * @param diameter {@link #SIZE_MIN} to {@link #SIZE_MAX}
   * @param length {@link #SIZE_MIN} to {@link #SIZE_MAX}
   */
  record Rod(Length diameter, Length length) implements Shape {

    /**
     * @throws IllegalArgumentException naming the size that is out of range
     */
    public Rod {
      requireSize("rod's diameter", diameter);
      requireSize("rod's length", length);
    }

    /** {@inheritDoc} Source: see {@link DemagnetisingFactor#ofCylinder}. */
    @Override
    public double demagnetisingFactor() {
      return DemagnetisingFactor.ofCylinder(diameter.metres(), length.metres());
    }

    /** {@inheritDoc} Two charged discs, in closed form; see any text on magnetostatics. */
    @Override
    public double faceFieldPerPolarisation(Length standOff) {
      double near = requireStandOff(standOff);
      double far = near + length.metres();
      double radius = 0.5 * diameter.metres();
      return 0.5 * (far / Math.hypot(far, radius) - near / Math.hypot(near, radius));
    }

    @Override
    public Length height() {
      return length;
    }

    @Override
    public String words() {
      return String.format(Locale.ROOT, "rod %.2f x %.2f mm", diameter.mm(), length.mm());
    }
  }

  /** Which way a bar is charged. */
  enum Axis {
    /** Through the width: the poles are the two long edges. */
    THROUGH_WIDTH("through its width"),
    /** Through the thickness: the poles are the two large faces. */
    THROUGH_THICKNESS("through its thickness"),
    /** Along the length: the poles are the two ends. */
    ALONG_LENGTH("along its length");

    private final String words;

    Axis(String words) {
      this.words = words;
    }

    /** As it is written for people. */
    public String words() {
      return words;
    }
  }

  /**
   * A rectangular magnet.
   *
   * @param length {@link #SIZE_MIN} to {@link #SIZE_MAX}, as are the other sizes
   */
  record Bar(Length length, Length width, Length thickness, Axis axis) implements Shape {

    /**
     * @throws IllegalArgumentException naming the size that is out of range
     */
    public Bar {
      requireSize("bar's length", length);
      requireSize("bar's width", width);
      requireSize("bar's thickness", thickness);
    }

    /** {@inheritDoc} Source: see {@link DemagnetisingFactor#ofPrism}. */
    @Override
    public double demagnetisingFactor() {
      Prism edges = edges();
      return DemagnetisingFactor.ofPrism(edges.a(), edges.b(), edges.c());
    }

    /** {@inheritDoc} Two charged rectangles, in closed form; see any text on magnetostatics. */
    @Override
    public double faceFieldPerPolarisation(Length standOff) {
      double near = requireStandOff(standOff);
      Prism edges = edges();
      return (edges.solidAngle(near) - edges.solidAngle(near + edges.c())) / (4 * Math.PI);
    }

    @Override
    public Length height() {
      return new Length(edges().c());
    }

    @Override
    public String words() {
      return String.format(
          Locale.ROOT,
          "bar %.2f x %.2f x %.2f mm, %s",
          length.mm(),
          width.mm(),
          thickness.mm(),
          axis.words());
    }

    Prism edges() {
      double l = length.metres();
      double w = width.metres();
      double t = thickness.metres();
      return switch (axis) {
        case THROUGH_WIDTH -> new Prism(l, t, w);
        case THROUGH_THICKNESS -> new Prism(l, w, t);
        case ALONG_LENGTH -> new Prism(w, t, l);
      };
    }
  }

  private static void requireSize(String what, Length size) {
    if (size.compareTo(SIZE_MIN) < 0 || size.compareTo(SIZE_MAX) > 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "the %s is %s; a magnet measures %s to %s",
              what,
              size.written(),
              SIZE_MIN.written(),
              SIZE_MAX.written()));
    }
  }

  private static double requireStandOff(Length standOff) {
    if (standOff.metres() < 0) {
      throw new IllegalArgumentException(
          "the stand-off is " + standOff.written() + "; it cannot be negative");
    }
    return standOff.metres();
  }
}
