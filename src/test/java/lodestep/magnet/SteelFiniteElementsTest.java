package lodestep.magnet;

import static lodestep.magnet.FiniteElementsTest.copied;
import static lodestep.magnet.FiniteElementsTest.last;
import static lodestep.magnet.FiniteElementsTest.run;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: soft poles against another program's solution, in three dimensions, with steel of a finite
 * permeability and a bar whose every part follows its own recoil line. Four minutes of one core and
 * 2 GB each. As run once, ours beside theirs: of two rows of posts polarisation -3 per cent, above
 * the inner poles -3, above the outermost -8; with a keeper -2, -3 to +3, -2.
 */
@Tag("finite-elements")
class SteelFiniteElementsTest {

  private static final double PITCH = 10.2e-3;
  private static final double RADIUS = 2.45e-3;
  private static final double GAP = 0.2e-3;

  /** Sizes in metres; a keeper of no width is none. */
  private record Layout(double length, double width, double thickness, double post, double keeper) {
    double row() {
      return 0.5 * width + GAP + RADIUS;
    }

    double otherRow() {
      return 0.5 * width + GAP + (keeper > 0 ? 0.5 * keeper : RADIUS);
    }

    double foot() {
      return -0.5 * thickness;
    }
  }

  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void aBarBetweenTwoRowsMakesTheFieldOfFiniteElements(@TempDir Path folder) throws Exception {
    assertAlike(folder, new Layout(58e-3, 11.5e-3, 3.4e-3, 15e-3, 0));
  }

  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void aKeeperMakesTheFieldOfFiniteElements(@TempDir Path folder) throws Exception {
    assertAlike(folder, new Layout(60e-3, 12e-3, 3.6e-3, 14e-3, 6e-3));
  }

  private static void assertAlike(Path folder, Layout layout) throws Exception {
    solved(folder, layout);
    PlacedBar bar =
        new PlacedBar(
            new Place(0, 0, 0),
            0.5 * layout.width(),
            0.5 * layout.length(),
            0.5 * layout.thickness(),
            false,
            1);
    SteelCircuit circuit = SteelCircuit.of(List.of(bar), steel(layout), 3);
    double alone = 1 / (1 + 3 * bar.demagnetisingFactor());
    double height = layout.foot() + layout.post();
    FluxSource ours = circuit.times(alone);
    double theirs = last(folder, "moment.txt") / last(folder, "volume.txt");
    assertClose("mean J", alone * circuit.overAlone(), theirs, 0.04);
    double row = layout.row();
    assertClose("near", z(ours, row, 0.5, height + 2e-3), last(folder, "near.txt"), 0.04);
    assertClose("inner", z(ours, row, 0.5, height + 3e-3), last(folder, "inner.txt"), 0.04);
    assertClose("outer", z(ours, row, 2.5, height + 3e-3), last(folder, "outer.txt"), 0.1);
    assertClose(
        "other", z(ours, -layout.otherRow(), 1.5, height + 3e-3), last(folder, "other.txt"), 0.04);
    double between = ours.at(new Place(0, 0.5 * PITCH, height + 3e-3)).xTesla();
    assertClose("between", between, last(folder, "between.txt"), 0.07);
  }

  private static double z(FluxSource source, double x, double pitches, double height) {
    return source.at(new Place(x, pitches * PITCH, height)).zTesla();
  }

  private static void assertClose(String what, double ours, double theirs, double part) {
    System.out.printf(
        Locale.ROOT, "%s: %.2f mT, ours %+.2f mT%n", what, theirs * 1e3, (ours - theirs) * 1e3);
    assertThat(ours).as(what).isCloseTo(theirs, within(part * Math.abs(theirs)));
  }

  private static List<List<SteelBody>> steel(Layout layout) {
    List<List<SteelBody>> steel = new ArrayList<>();
    posts(layout, layout.row()).forEach(post -> steel.add(List.of(post)));
    List<SteelBody> other = new ArrayList<>(posts(layout, -layout.otherRow()));
    if (layout.keeper() > 0) {
      Place centre = new Place(-layout.otherRow(), 0, 0);
      other.add(
          new SteelBody.Plate(centre, 0.5 * layout.keeper(), 0.5 * layout.length(), 2e-3));
      steel.add(other);
    } else {
      other.forEach(post -> steel.add(List.of(post)));
    }
    return steel;
  }

  private static List<SteelBody> posts(Layout layout, double x) {
    List<SteelBody> posts = new ArrayList<>();
    for (int at = 0; at < 6; at++) {
      Place foot = new Place(x, (at - 2.5) * PITCH, layout.foot());
      posts.add(new SteelBody.Post(foot, RADIUS, layout.post()));
    }
    return posts;
  }

  private static void solved(Path folder, Layout layout) throws IOException, InterruptedException {
    Files.writeString(
        folder.resolve("figures.pro"),
        String.format(
            Locale.ROOT,
            "bars = 1; rows = 2; upright = 0; barX = 0;%n"
                + "halfX = %.9e; halfY = %.9e; halfZ = %.9e;%n"
                + "rowX = %.9e; otherX = %.9e; pitch = %.9e;%n"
                + "foot = %.9e; length = %.9e; radius = %.9e;%n"
                + "keeperX = %.9e; keeperY = %.9e; keeperZ = 2e-3;%n"
                + "inner = 55e-3; outer = 80e-3; fine = 1e-3;%n"
                + "susceptibility = 3; polarisation = 1; permeable = 1000;%n",
            0.5 * layout.width(),
            0.5 * layout.length(),
            0.5 * layout.thickness(),
            layout.row(),
            layout.otherRow(),
            PITCH,
            layout.foot(),
            layout.post(),
            RADIUS,
            0.5 * layout.keeper(),
            0.5 * layout.length()));
    copied(folder, "poles.geo");
    copied(folder, "poles.pro");
    run(folder, "gmsh", "-3", "-v", "1", "-format", "msh22", "poles.geo", "-o", "poles.msh");
    run(
        folder,
        "getdp",
        "poles.pro",
        "-msh",
        "poles.msh",
        "-solve",
        "Solved",
        "-pos",
        "Figures");
  }
}
