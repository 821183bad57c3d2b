package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.config.RigReading;
import lodestep.config.ShippedRig;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Shape;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;

/** Goal: a plan that a switched coil's steps can hardly meet says so before anything is charged. */
class PlanDoubtsTest {

  private static RigConfig switched() throws IOException {
    Path file =
        Path.of(
            System.getProperty("lodestep.repository", "."),
            "firmware-host/board/rig-virtual-switched.toml");
    return ((RigReading.Rig) RigFile.read("rig.toml", Files.readString(file))).config();
  }

  private static List<String> doubts(RigConfig rig, String alloy, double gauss, double half) {
    PlanRow row =
        new PlanRow(
            4,
            "finch",
            Optional.empty(),
            AlloyBook.standard().find(alloy).orElseThrow(),
            new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5)),
            rig.nest("rod nest"),
            PoleUp.NORTH,
            new Task.ToLevel(FluxDensity.ofGauss(gauss), FluxDensity.ofGauss(half)),
            1);
    return PlanDoubts.of(new Plan("order", "", "", List.of(row)), rig);
  }

  @Test
  void saysWhenTheStepsAreCoarserThanTheTolerance() throws IOException {
    assertThat(doubts(switched(), "alnico 5", 520, 3))
        .singleElement()
        .asString()
        .startsWith("line 4, finch: near 520.0 G a step of this coil takes about ");
  }

  @Test
  void saysWhenTheCoilCannotSaturate() throws IOException {
    assertThat(doubts(switched(), "alnico 8", 520, 12))
        .singleElement()
        .asString()
        .contains("its full charge needs a field of")
        .contains("440.1 kA/m");
  }

  @Test
  void saysNothingOfAToleranceThatTheStepsMeet() throws IOException {
    assertThat(doubts(switched(), "alnico 5", 520, 12)).isEmpty();
  }

  @Test
  void saysNothingOfASourceThatTakesAnyField() {
    assertThat(doubts(ReferenceRig.virtual(), "alnico 5", 520, 3)).isEmpty();
  }

  /** The bank's two charges would tell, at the price of two charges for each magnet of the row. */
  @Test
  void saysBeforehandThatABankCannotSaturateAHardBar() {
    RigConfig rig = ReferenceRig.virtual();
    Shape bar =
        new Shape.Bar(
            Length.ofMm(61), Length.ofMm(11.5), Length.ofMm(3.2), Shape.Axis.THROUGH_WIDTH);
    PlanRow row =
        new PlanRow(
            4,
            "finch",
            Optional.empty(),
            AlloyBook.standard().find("alnico 8").orElseThrow(),
            bar,
            rig.nest("bar nest"),
            PoleUp.NORTH,
            new Task.FullCharge(),
            1);

    assertThat(PlanDoubts.of(new Plan("order", "", "", List.of(row)), rig))
        .singleElement()
        .asString()
        .contains("its full charge needs a field of", "a usual one will be refused", "by hand");
  }

  /** The field on a jig's axis is that of a rod, and not of a ring's wall around it. */
  @Test
  void aRingUnderAJigIsToldThatItsWallSeesOtherThanTheAxis() {
    RigConfig jig = ShippedRig.read("rig-virtual-jig.toml");
    Task task = new Task.ToLevel(FluxDensity.ofGauss(90), FluxDensity.ofGauss(9));
    Shape ring = new Shape.Ring(Length.ofMm(14.5), Length.ofMm(5.6), Length.ofMm(8.2));
    PlanRow row =
        new PlanRow(
            4,
            "finch",
            Optional.empty(),
            AlloyBook.standard().find("alnico 3").orElseThrow(),
            ring,
            jig.nest("rod nest"),
            PoleUp.NORTH,
            task,
            1);

    assertThat(PlanDoubts.of(new Plan("order", "", "", List.of(row)), jig))
        .singleElement()
        .asString()
        .contains("reckoned on its axis", "the ring's wall sees");
    assertThat(doubts(jig, "alnico 3", 300, 9)).isEmpty();
  }
}
