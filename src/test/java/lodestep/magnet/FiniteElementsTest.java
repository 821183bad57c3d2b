package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: the resolved magnet against another program's solution of the same equations. The mesher
 * {@code gmsh} and the finite-element program {@code getdp}, both of Debian, solve an axisymmetric
 * rod or ring in all of space with second-order elements; they share nothing with our cells.
 */
@Tag("finite-elements")
class FiniteElementsTest {

  private static final double MU0 = 4e-7 * Math.PI;
  private static final double[] STAND_OFFS_MM = {0.5, 1, 2};

  /**
   * What acts on the magnet once it is charged.
   *
   * @param across susceptibility
   * @param reverse field in A/m, in the middle
   * @param slant its growth towards the upper face, per metre
   * @param uneven its growth, per square metre
   */
  private record Applied(double across, double reverse, double slant, double uneven) {}

  /** What the program found. */
  private record Found(double meanTesla, List<Double> faceTesla) {}

  /** The meshing and the shell that stands for far away, against the closed form of a cylinder. */
  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void anEvenlyPolarisedRodHasTheFieldOfTheClosedForm(@TempDir Path folder) throws Exception {
    Shape.Rod rod = rod(4.9, 16.5);
    Hysteresis even = new Hysteresis(1, 1e9, 1, 0);

    Found found = solved(folder, rod, even, new Applied(0, 0, 0, 0));

    Cylinder cylinder = new Cylinder(2.45e-3, 8.25e-3);
    assertThat(found.meanTesla()).isCloseTo(1, within(1e-9));
    for (int i = 0; i < STAND_OFFS_MM.length; i++) {
      double expected = cylinder.at(Place.onAxis(8.25e-3 + STAND_OFFS_MM[i] * 1e-3)).zTesla();
      assertThat(found.faceTesla().get(i)).isCloseTo(expected, within(2e-3 * expected));
    }
  }

  /**
   * Charged, and knocked down by a reverse pulse of so many kA/m. Off by no more than 2 per cent of
   * the full charge, but for a slender rod half a millimetre off its face.
   */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({
    "alnico 2, 4.9, 16.5, 0, 0.02",
    "alnico 3, 4.9, 16.5, 0, 0.02",
    "alnico 5, 4.9, 16.5, 0, 0.02",
    "alnico 5, 6.2, 11, 0, 0.02",
    "alnico 8, 4.9, 16.5, 0, 0.02",
    "alnico 8, 3.1, 21, 0, 0.025",
    "alnico 2, 4.9, 16.5, 19, 0.02",
    "alnico 5, 4.9, 16.5, 14, 0.02",
    "alnico 5, 4.9, 16.5, 33, 0.02",
    "alnico 8, 4.9, 16.5, 58, 0.02",
    "alnico 2, 4.9, 16.5, 52, 0.02",
    "alnico 5, 4.9, 16.5, 56, 0.02"
  })
  void aRodReadsWhatFiniteElementsSay(
      String alloy,
      double diameterMm,
      double lengthMm,
      double reverseKiloAmperes,
      double part,
      @TempDir Path folder)
      throws Exception {
    assertAsFiniteElements(folder, alloy, rod(diameterMm, lengthMm), reverseKiloAmperes, part);
  }

  /** As for the rods, over the middle of the wall. */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({
    "alnico 3, 16.4, 6.3, 9.4, 0, 0.02",
    "alnico 5, 16.4, 6.3, 9.4, 0, 0.02",
    "alnico 5, 16.4, 6.3, 9.4, 31, 0.02",
    "alnico 8, 11, 4.2, 14, 0, 0.02"
  })
  void aRingReadsWhatFiniteElementsSay(
      String alloy,
      double outsideMm,
      double insideMm,
      double lengthMm,
      double reverseKiloAmperes,
      double part,
      @TempDir Path folder)
      throws Exception {
    Shape.Ring ring =
        new Shape.Ring(Length.ofMm(outsideMm), Length.ofMm(insideMm), Length.ofMm(lengthMm));
    assertAsFiniteElements(folder, alloy, ring, reverseKiloAmperes, part);
  }

  /**
   * An uneven field, such as an opposing magnet makes: at the faces three times what it is in the
   * middle, and slanting in between.
   */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({
    "alnico 3, 4.9, 16.5, 7",
    "alnico 5, 4.9, 16.5, 9",
    "alnico 5, 4.9, 16.5, 19",
    "alnico 8, 6.2, 11, 31"
  })
  void aRodInAnUnevenFieldReadsWhatFiniteElementsSay(
      String alloy, double diameterMm, double lengthMm, double middle, @TempDir Path folder)
      throws Exception {
    Shape.Rod rod = rod(diameterMm, lengthMm);
    double half = 0.5 * rod.length().metres();
    double uneven = 2 / (half * half);
    FluxSource against =
        place -> {
          double x = place.xMetres();
          double y = place.yMetres();
          double z = place.zMetres();
          double along = 1 + uneven * (z * z - 0.5 * (x * x + y * y));
          return new Flux(-uneven * x * z, -uneven * y * z, along).times(-MU0 * middle * 1e3);
        };
    Hysteresis loop = loop(alloy);
    ResolvedMagnet magnet = ResolvedMagnet.forUnevenFields(rod, loop);
    Found found =
        solved(
            folder,
            rod,
            loop,
            new Applied(ResolvedMagnet.SUSCEPTIBILITY_ACROSS, middle * 1e3, 0, uneven));

    assertAsFound(
        alloy + ", " + rod.words() + ", uneven, " + middle + " kA/m in the middle",
        rod,
        magnet.charged(),
        magnet.knockedDown(against),
        found,
        0.02);
  }

  /**
   * A bar under a magnet that comes to one edge: the near edge sees several times what the far one
   * sees. In three dimensions, and so by coarser elements; some minutes of one core.
   */
  @Against(Against.Kind.ANOTHER_WAY)
  @ParameterizedTest
  @CsvSource({"alnico 5, 24, 11, 5, 12, 90"})
  void aBarInAFieldFromOneEndReadsWhatFiniteElementsSay(
      String alloy,
      double lengthMm,
      double widthMm,
      double thicknessMm,
      double middle,
      double slant,
      @TempDir Path folder)
      throws Exception {
    Shape.Bar bar =
        new Shape.Bar(
            Length.ofMm(lengthMm),
            Length.ofMm(widthMm),
            Length.ofMm(thicknessMm),
            Shape.Axis.THROUGH_WIDTH);
    FluxSource against =
        place ->
            new Flux(
                    -0.5 * slant * place.xMetres(),
                    -0.5 * slant * place.yMetres(),
                    1 + slant * place.zMetres())
                .times(-MU0 * middle * 1e3);
    ResolvedMagnet magnet = ResolvedMagnet.forUnevenFields(bar, loop(alloy));

    assertAsFound(
        alloy + ", " + bar.words() + ", from one end, " + middle + " kA/m in the middle",
        bar,
        magnet.charged(),
        magnet.knockedDown(against),
        solved(
            folder,
            bar,
            loop(alloy),
            new Applied(ResolvedMagnet.SUSCEPTIBILITY_ACROSS, middle * 1e3, slant, 0)),
        0.03);
  }

  private static Hysteresis loop(String alloy) {
    return Hysteresis.of(AlloyBook.standard().find(alloy).orElseThrow());
  }

  private static void assertAsFiniteElements(
      Path folder, String alloy, Shape shape, double reverseKiloAmperes, double part)
      throws IOException, InterruptedException {
    FieldStrength reverse = new FieldStrength(reverseKiloAmperes * 1e3);
    ResolvedMagnet magnet = ResolvedMagnet.of(shape, loop(alloy));
    Applied applied =
        new Applied(ResolvedMagnet.SUSCEPTIBILITY_ACROSS, reverse.amperesPerMetre(), 0, 0);

    assertAsFound(
        alloy + ", " + shape.words() + ", " + reverse.written(),
        shape,
        magnet.charged(),
        magnet.knockedDown(reverse),
        solved(folder, shape, loop(alloy), applied),
        part);
  }

  private static void assertAsFound(
      String words,
      Shape shape,
      ResolvedMagnet.Resolved charged,
      ResolvedMagnet.Resolved left,
      Found found,
      double part) {
    assertAlike(
        words + ", mean J", left.meanTesla(), found.meanTesla(), part * charged.meanTesla());
    for (int i = 0; i < STAND_OFFS_MM.length; i++) {
      Place place = shape.readAt(Length.ofMm(STAND_OFFS_MM[i]));
      assertAlike(
          words + ", B at " + STAND_OFFS_MM[i] + " mm",
          left.at(place).zTesla(),
          found.faceTesla().get(i),
          part * charged.at(place).zTesla());
    }
  }

  private static void assertAlike(String words, double ours, double theirs, double apartMost) {
    System.out.printf(
        Locale.ROOT, "%s: %.2f mT, ours %+.2f mT%n", words, theirs * 1e3, (ours - theirs) * 1e3);
    assertThat(ours).as(words).isCloseTo(theirs, within(apartMost));
  }

  /** As {@link ResolvedMagnet} begins; an even magnet needs none. */
  private static double saturating(Hysteresis loop) {
    return loop.centreAmperesPerMetre() > 1e6
        ? 1e3
        : loop.centreAmperesPerMetre()
            + 12 * loop.widthAmperesPerMetre()
            + loop.saturationTesla() / MU0;
  }

  private static Shape.Rod rod(double diameterMm, double lengthMm) {
    return new Shape.Rod(Length.ofMm(diameterMm), Length.ofMm(lengthMm));
  }

  private static Found solved(Path folder, Shape shape, Hysteresis loop, Applied applied)
      throws IOException, InterruptedException {
    double half = 0.5 * shape.height().metres();
    double reach = Math.max(half, shape instanceof Shape.Bar bar ? 0.5 * edge(bar) : radius(shape));
    String figures =
        sizes(shape)
            + String.format(
                Locale.ROOT,
                "half = %.9e; inner = %.9e; outer = %.9e; aside = %.9e;%n"
                    + "saturation = %.9e; centre = %.9e; width = %.9e; susceptibility = %.9e;%n"
                    + "across = %.9e; saturating = %.9e; reverse = %.9e; slant = %.9e;"
                    + " uneven = %.9e; steps = 12;%n",
                half,
                3.5 * reach,
                5 * reach,
                // A hair off the axis, on which the elements' own coordinates end.
                Math.max(1e-7, shape.readAside()),
                loop.saturationTesla(),
                loop.centreAmperesPerMetre(),
                loop.widthAmperesPerMetre(),
                loop.susceptibility(),
                applied.across(),
                saturating(loop),
                applied.reverse(),
                applied.slant(),
                applied.uneven());
    Files.writeString(folder.resolve("figures.pro"), figures);
    return solved(folder, shape.kind() + ".geo", shape instanceof Shape.Bar ? "-3" : "-2");
  }

  private static double edge(Shape.Bar bar) {
    return Math.max(bar.edges().a(), bar.edges().b());
  }

  private static double radius(Shape shape) {
    return 0.5
        * (shape instanceof Shape.Ring ring ? ring.outside() : ((Shape.Rod) shape).diameter())
            .metres();
  }

  private static String sizes(Shape shape) {
    if (shape instanceof Shape.Bar bar) {
      return String.format(
          Locale.ROOT,
          "solid = 1; halfX = %.9e; halfZ = %.9e;%n",
          0.5 * bar.edges().a(),
          0.5 * bar.edges().b());
    }
    double hole = shape instanceof Shape.Ring ring ? 0.5 * ring.inside().metres() : 0;
    return String.format(
        Locale.ROOT, "solid = 0; radius = %.9e; hole = %.9e;%n", radius(shape), hole);
  }

  private static Found solved(Path folder, String drawing, String dimensions)
      throws IOException, InterruptedException {
    copied(folder, drawing);
    copied(folder, "rod.pro");
    run(folder, "gmsh", dimensions, "-v", "1", "-format", "msh22", drawing, "-o", "rod.msh");
    String said =
        run(folder, "getdp", "rod.pro", "-msh", "rod.msh", "-solve", "Pulsed", "-pos", "Figures");
    assertThat(said).as("the steps of Newton's method").doesNotContain("did NOT converge");
    List<Double> face =
        List.of(last(folder, "half.txt"), last(folder, "one.txt"), last(folder, "two.txt"));
    return new Found(last(folder, "moment.txt") / last(folder, "volume.txt"), face);
  }

  static void copied(Path folder, String name) throws IOException {
    try (InputStream in = FiniteElementsTest.class.getResourceAsStream(name)) {
      Files.copy(Objects.requireNonNull(in, name), folder.resolve(name));
    }
  }

  static double last(Path folder, String file) throws IOException {
    String line = Files.readString(folder.resolve(file)).strip();
    return Double.parseDouble(line.substring(line.lastIndexOf(' ') + 1));
  }

  static String run(Path folder, String... command) throws IOException, InterruptedException {
    Path out = folder.resolve(command[0] + ".out");
    Process process;
    try {
      process =
          new ProcessBuilder(command)
              .directory(folder.toFile())
              .redirectErrorStream(true)
              .redirectOutput(out.toFile())
              .start();
    } catch (IOException missing) {
      throw new AssertionError(
          command[0] + " is not there; install it: sudo apt-get install getdp gmsh", missing);
    }
    int code = process.waitFor();
    String said = Files.readString(out);
    assertThat(code).as(() -> String.join(" ", command) + "\n" + said).isZero();
    return said;
  }
}
