package lodestep.magnet;

import static lodestep.magnet.FiniteElementsTest.copied;
import static lodestep.magnet.FiniteElementsTest.last;
import static lodestep.magnet.FiniteElementsTest.run;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: soft poles against another program's solution, in three dimensions, with steel of a
 * relative permeability of 1000 and bars whose every part follows its own recoil line, along and
 * across. Some four minutes of one core and 2 GB each. Each was run once; ours beside theirs, in
 * per cent:
 *
 * <table>
 * <caption>Polarisation, field 2 and 3 mm above an inner pole, above the outermost</caption>
 * <tr><td>between two rows</td><td>-3</td><td>-3</td><td>-3</td><td>-8</td></tr>
 * <tr><td>one row in a keeper</td><td>-2</td><td>+2</td><td>+3</td><td>-2</td></tr>
 * <tr><td>either side of a row in a keeper</td><td>-3</td><td>-2</td><td>-3</td><td>-2</td></tr>
 * <tr><td>under one row</td><td>-2</td><td>+2</td><td>+2</td><td>-8</td></tr>
 * </table>
 */
@Tag("finite-elements")
class SteelFiniteElementsTest {

  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void aBarBetweenTwoRowsMakesTheFieldOfFiniteElements(@TempDir Path folder) throws Exception {
    assertAlike(folder, SteelCase.ROWS);
  }

  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void aKeeperMakesTheFieldOfFiniteElements(@TempDir Path folder) throws Exception {
    assertAlike(folder, SteelCase.KEEPER);
  }

  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void barsEitherSideOfARowMakeTheFieldOfFiniteElements(@TempDir Path folder) throws Exception {
    assertAlike(folder, SteelCase.SIDES);
  }

  @Against(Against.Kind.ANOTHER_WAY)
  @Test
  void aBarUnderARowMakesTheFieldOfFiniteElements(@TempDir Path folder) throws Exception {
    assertAlike(folder, SteelCase.UNDER);
  }

  private static void assertAlike(Path folder, SteelCase pickup) throws Exception {
    Files.writeString(folder.resolve("figures.pro"), pickup.figures());
    copied(folder, "poles.geo");
    copied(folder, "poles.pro");
    run(folder, "gmsh", "-3", "-v", "1", "-format", "msh22", "poles.geo", "-o", "poles.msh");
    run(folder, "getdp", "poles.pro", "-msh", "poles.msh", "-solve", "Solved", "-pos", "Figures");
    SteelCircuit circuit = pickup.circuit();
    FluxSource ours = circuit.times(pickup.aloneTesla());
    double theirs = last(folder, "moment.txt") / last(folder, "volume.txt");
    double row = pickup.rowX();
    assertClose("mean J", pickup.aloneTesla() * circuit.overAlone(), theirs, 0.04);
    assertClose("near", z(ours, pickup.above(row, 0.5, 2)), last(folder, "near.txt"), 0.04);
    assertClose("inner", z(ours, pickup.above(row, 0.5, 3)), last(folder, "inner.txt"), 0.04);
    assertClose("outer", z(ours, pickup.above(row, 2.5, 3)), last(folder, "outer.txt"), 0.09);
    Place other = pickup.above(-pickup.otherX(), 1.5, 3);
    assertClose("other", z(ours, other), last(folder, "other.txt"), 0.04);
  }

  private static double z(FluxSource source, Place place) {
    return source.at(place).zTesla();
  }

  private static void assertClose(String what, double ours, double theirs, double part) {
    System.out.printf(
        Locale.ROOT, "%s: %.2f mT, ours %+.2f mT%n", what, theirs * 1e3, (ours - theirs) * 1e3);
    assertThat(ours).as(what).isCloseTo(theirs, within(part * Math.abs(theirs)));
  }
}
