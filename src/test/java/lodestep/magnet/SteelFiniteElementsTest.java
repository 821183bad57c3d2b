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
 * <caption>Polarisation, field 2 and 3 mm above an inner pole, above the outermost; fall of the
 * field and pull on a string 3 mm above an inner pole, and above the outermost</caption>
 * <tr><td>between two rows</td><td>-3</td><td>-3</td><td>-3</td><td>-8</td><td>-2</td><td>-9</td>
 * <td>-9</td><td>-15</td></tr>
 * <tr><td>one row in a keeper</td><td>-2</td><td>+2</td><td>+3</td><td>-2</td><td>+3</td>
 * <td>-5</td><td>-3</td><td>-6</td></tr>
 * <tr><td>either side of a row in a keeper</td><td>-3</td><td>-2</td><td>-3</td><td>-2</td>
 * <td>-3</td><td>-7</td><td>-2</td><td>-4</td></tr>
 * <tr><td>under one row</td><td>-2</td><td>+2</td><td>+2</td><td>-8</td><td>+3</td><td>+2</td>
 * <td>-8</td><td>-12</td></tr>
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
    assertFallAndPull(folder, "inner", pickup.gradient(ours, row, 0.5), pickup.pull(ours, 0.5), 1);
    assertFallAndPull(folder, "outer", pickup.gradient(ours, row, 2.5), pickup.pull(ours, 2.5), 2);
  }

  /** What the field falls by and a string is pulled by 3 mm up, from half a millimetre each way. */
  private static void assertFallAndPull(
      Path folder, String pole, double fall, double pull, int where) throws Exception {
    double theirs = 1e3 * (last(folder, pole + "-5.txt") - last(folder, pole + "-7.txt"));
    assertClose(pole + " fall", fall, theirs, where == 1 ? 0.04 : 0.09);
    double pulled =
        1e3
            * (squares(folder.resolve(pole + "-along-5.txt"))
                - squares(folder.resolve(pole + "-along-7.txt")));
    assertClose(pole + " pull", pull, pulled, where == 1 ? 0.10 : 0.16);
  }

  /** Integral of the square of what crosses the string, by the rule of trapezia. */
  private static double squares(Path file) throws Exception {
    double sum = 0;
    double[] before = new double[0];
    for (String line : Files.readAllLines(file)) {
      if (line.isBlank()) {
        continue;
      }
      String[] cells = line.strip().split("\\s+", -1);
      double y = Double.parseDouble(cells[cells.length - 2]);
      double z = Double.parseDouble(cells[cells.length - 1]);
      double[] now = {Double.parseDouble(cells[2]), y * y + z * z};
      sum += before.length == 0 ? 0 : 0.5 * (now[1] + before[1]) * (now[0] - before[0]);
      before = now;
    }
    return sum;
  }

  private static double z(FluxSource source, Place place) {
    return source.at(place).zTesla();
  }

  private static void assertClose(String what, double ours, double theirs, double part) {
    System.out.printf(
        Locale.ROOT, "%s: %.4g, ours %+.2f %%%n", what, theirs, 100 * (ours / theirs - 1));
    assertThat(ours).as(what).isCloseTo(theirs, within(part * Math.abs(theirs)));
  }
}
