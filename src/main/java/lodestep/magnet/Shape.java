package lodestep.magnet;

import java.util.Locale;
import lodestep.quantity.Length;

/**
 * Shape and sizes of a magnet, and the axis along which it is charged. Any thread, immutable.
 *
 * <p>All field figures here take the magnetisation as the same everywhere in the magnet. A real
 * alnico magnet is weaker near its faces, where its own field works against it: the figures
 * over-read by about a fifth to two fifths a millimetre off the face. They serve for ratios and
 * first guesses; {@link FaceModel} says what a magnet reads.
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
   * @param distance outside the pole face, &ge; 0
   * @throws IllegalArgumentException if the distance is negative
   */
  double axisFieldPerPolarisation(Length distance);

  /**
   * Flux density at {@link #readAt} in tesla, along the axis, for one tesla of polarisation.
   *
   * @param standOff distance outside the pole face, &ge; 0
   * @throws IllegalArgumentException if the stand-off is negative
   */
  default double faceFieldPerPolarisation(Length standOff) {
    return axisFieldPerPolarisation(standOff);
  }

  /**
   * Where such a magnet is read: over the middle of its face, or of a ring's wall. The body's
   * centre is the origin.
   *
   * @param standOff outside the face at +z, &ge; 0
   */
  default Place readAt(Length standOff) {
    return new Place(readAside(), 0, 0.5 * height().metres() + standOff.metres());
  }

  /** How far beside the axis it is read, in metres. */
  default double readAside() {
    return 0;
  }

  /** What an even polarisation of one tesla makes around it. */
  FluxSource perTesla();

  /** Of the material. */
  double volumeCubicMetres();

  /** The word for such a magnet, which is that of the nests that take it: {@code rod}. */
  String kind();

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
    public double axisFieldPerPolarisation(Length distance) {
      return discs(requireStandOff(distance), length.metres(), 0.5 * diameter.metres());
    }

    @Override
    public FluxSource perTesla() {
      return new Cylinder(0.5 * diameter.metres(), 0.5 * length.metres());
    }

    @Override
    public double volumeCubicMetres() {
      return 0.25 * Math.PI * diameter.metres() * diameter.metres() * length.metres();
    }

    @Override
    public String kind() {
      return "rod";
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

  /**
   * A round magnet with a hole through it, charged along its axis.
   *
   * <p>By superposition: a rod as wide as the outside, less one as wide as the hole. It is read
   * over the middle of its wall; on its axis, over the hole, the field turns round a little way off
   * the face and says little of the charge.
   *
   * @param outside diameter, {@link #SIZE_MIN} to {@link #SIZE_MAX}, as are the other sizes and the
   *     wall
   * @param inside diameter of the hole
   */
  record Ring(Length outside, Length inside, Length length) implements Shape {

    /**
     * @throws IllegalArgumentException naming the size that is out of range, or that the hole is no
     *     smaller than the ring
     */
    public Ring {
      requireSize("ring's outside diameter", outside);
      requireSize("ring's inside diameter", inside);
      requireSize("ring's length", length);
      if (inside.compareTo(outside) >= 0) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "a ring's inside diameter is smaller than its outside one, and %s is not smaller"
                    + " than %s",
                inside.written(),
                outside.written()));
      }
      // To the nanometre: 9 and 8 mm leave half a millimetre, whatever the last binary digit says.
      double wall = Math.rint(0.5e9 * (outside.metres() - inside.metres())) / 1e9;
      requireSize("ring's wall", new Length(wall));
    }

    /** {@inheritDoc} Source: see {@link DemagnetisingFactor#ofRing}. */
    @Override
    public double demagnetisingFactor() {
      return DemagnetisingFactor.ofRing(outside.metres(), inside.metres(), length.metres());
    }

    /** {@inheritDoc} Over the hole; below zero near to it. Two charged discs with holes. */
    @Override
    public double axisFieldPerPolarisation(Length distance) {
      double near = requireStandOff(distance);
      return discs(near, length.metres(), 0.5 * outside.metres())
          - discs(near, length.metres(), 0.5 * inside.metres());
    }

    @Override
    public double faceFieldPerPolarisation(Length standOff) {
      requireStandOff(standOff);
      return perTesla().at(readAt(standOff)).zTesla();
    }

    @Override
    public double readAside() {
      return 0.25 * (outside.metres() + inside.metres());
    }

    @Override
    public FluxSource perTesla() {
      double half = 0.5 * length.metres();
      return new Cylinder(0.5 * outside.metres(), half)
          .plus(new Cylinder(0.5 * inside.metres(), half).times(-1));
    }

    @Override
    public double volumeCubicMetres() {
      double squares = outside.metres() * outside.metres() - inside.metres() * inside.metres();
      return 0.25 * Math.PI * squares * length.metres();
    }

    @Override
    public Length height() {
      return length;
    }

    @Override
    public String kind() {
      return "ring";
    }

    @Override
    public String words() {
      return String.format(
          Locale.ROOT, "ring %.2f x %.2f x %.2f mm", outside.mm(), inside.mm(), length.mm());
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
    public double axisFieldPerPolarisation(Length distance) {
      double near = requireStandOff(distance);
      Prism edges = edges();
      return (edges.solidAngle(near) - edges.solidAngle(near + edges.c())) / (4 * Math.PI);
    }

    @Override
    public FluxSource perTesla() {
      Prism edges = edges();
      return new Block(0.5 * edges.a(), 0.5 * edges.b(), 0.5 * edges.c());
    }

    @Override
    public double volumeCubicMetres() {
      return length.metres() * width.metres() * thickness.metres();
    }

    @Override
    public String kind() {
      return "bar";
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

  /** On the axis of a rod, at a distance from its near end. */
  private static double discs(double near, double length, double radius) {
    double far = near + length;
    return 0.5 * (far / Math.hypot(far, radius) - near / Math.hypot(near, radius));
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
