package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import lodestep.config.BankConfig;
import lodestep.config.ChargeBy;
import lodestep.config.CoilConfig;
import lodestep.config.HeadConfig;
import lodestep.config.KnockDownBy;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.config.Sources;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/** Goal: the figures that the interlocks take from a rig, reckoned by hand. */
class SettingsTest {

  private static RigConfig rig(HeadConfig head, CoilConfig... coils) {
    RigConfig reference = ReferenceRig.virtual();
    return new RigConfig(
        "tried rig",
        RigKind.VIRTUAL,
        head,
        coils.length == 0 ? BankConfig.NONE : reference.bank(),
        List.of(coils),
        reference.nests(),
        reference.gauge(),
        reference.limits(),
        Map.of());
  }

  private static CoilConfig coil(double degC) {
    return new CoilConfig("coil", 0.3, 0.22e-3, 7000, 4.7, 60, 6, Temperature.ofDegC(degC));
  }

  @Test
  void takesTheCoilThatBearsLeastAndTheHeadThatIsNamed() {
    HeadConfig head = new HeadConfig.SerialHead("port", "H-7");

    InterlockSettings settings = InterlockSettings.of(rig(head, coil(80), coil(65), coil(70)));

    assertThat(settings.coilTemperatureMax()).isEqualTo(Temperature.ofDegC(65));
    assertThat(settings.headSerialNumber()).isEqualTo("H-7");
    assertThat(settings.switched()).isEmpty();
    assertThat(settings.scanPeriodNs()).isEqualTo(5_000_000);
    assertThat(settings.scanLateNs()).isEqualTo(20_000_000);
    assertThat(InterlockSettings.of(ReferenceRig.virtual()).headSerialNumber()).isEmpty();
  }

  /** Its thermometer sits at the jig's motor then. */
  @Test
  void takesTheMotorsLimitWhereThereIsNoCoil() {
    RigConfig jigAlone =
        rig(new HeadConfig.VirtualHead())
            .with(
                new Sources(
                    ChargeBy.HAND, KnockDownBy.JIG, List.of(Bench.JIG_ONLY.jig().orElseThrow())));

    assertThat(InterlockSettings.of(jigAlone).coilTemperatureMax())
        .isEqualTo(Temperature.ofDegC(60));
  }

  @Test
  void refusesARigThatDrivesNothing() {
    assertThatThrownBy(() -> InterlockSettings.of(rig(new HeadConfig.VirtualHead())))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("rig tried rig drives nothing");
  }

  /** 50 V through 100 ohms into 22 mF, with 2,000 ohms across it; bled through 22 ohms. */
  @Test
  void reckonsTheTimesOfABank() {
    Figures figures = Figures.of(Bench.SETTINGS);

    assertThat(figures.fillEndMilliVolts()).isCloseTo(50_000 * 2000.0 / 2100, within(1e-6));
    assertThat(figures.fillTimeConstantNs()).isCloseTo(22e-3 * 2e5 / 2100 * 1e9, within(1.0));
    assertThat(figures.bleedTimeConstantNs()).isCloseTo(0.484e9, within(1.0));
    assertThat(figures.bleederTimeConstantNs()).isCloseTo(44e9, within(1.0));
    assertThat(figures.coilCentiDegCMax()).isEqualTo(7_000);
    assertThat(figures.currentZeroMilliAmps()).isEqualTo(50);
    assertThat(figures.bankOverMilliVolts()).isEqualTo(51_000);
    assertThat(figures.bankCapMilliVolts()).isEqualTo(50_000);
    assertThat(Figures.of(Bench.JIG_ONLY).bankOverMilliVolts()).isEqualTo(10_000);
    assertThat(Figures.of(Bench.JIG_ONLY).fillEndMilliVolts()).isZero();
  }

  @Test
  void hasWordsOfItsOwnForEachCondition() {
    assertThat(Arrays.stream(Condition.values()).map(Condition::words))
        .doesNotHaveDuplicates()
        .allSatisfy(words -> assertThat(words).isNotBlank());
    assertThat(Condition.KEY_ON.words()).isEqualTo("the arm key is on");
  }
}
