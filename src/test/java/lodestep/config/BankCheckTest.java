package lodestep.config;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.List;
import lodestep.quantity.Voltage;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: a bank that could hurt, or could not do its work, is refused just over each limit. */
class BankCheckTest {

  @ParameterizedTest
  @CsvSource({"supply_voltage, 50.01 V", "highest_voltage, 50.01 V", "supply_voltage, 0 V"})
  void refusesAVoltageOverTheCapOrNone(String key, String voltage) throws IOException {
    assertThat(problemsWith(key, voltage))
        .singleElement()
        .asString()
        .contains("'" + key + "' is")
        .contains("never over 50 V");
  }

  @Test
  void takesTheCapItself() throws IOException {
    assertThat(RigFileTest.rig(with("supply_voltage", "50 V")).bank().supplyVoltage())
        .isEqualTo(new Voltage(50));
  }

  /** 48 mF at 50 V hold exactly 60 J (E = C V squared / 2). */
  @ParameterizedTest
  @CsvSource({"48 mF, 0", "48.1 mF, 1"})
  void refusesMoreThanSixtyJoules(String capacitance, int refusals) throws IOException {
    String text =
        with("capacitance", capacitance)
            .replace("\"2.0 kΩ\"", "\"1.0 kΩ\"")
            .replace("\"47 Ω\"", "\"22 Ω\"");

    List<String> problems = RigFile.read("rig.toml", text).match(rig -> List.of(), all -> all);

    assertThat(problems).hasSize(refusals).allMatch(problem -> problem.contains("60.1 J at the"));
  }

  /** 22 mF with 1.364 and 2.727 kΩ have time constants of 30.0 and 60.0 s. */
  @ParameterizedTest
  @CsvSource({"1.36 kΩ", "2.73 kΩ"})
  void refusesABleederOutsideThirtyToSixtySeconds(String bleeder) throws IOException {
    assertThat(problemsWith("bleeder", bleeder))
        .singleElement()
        .asString()
        .contains("it must be 30 to 60 s, so take a bleeder of 1.4 to 2.7 kΩ");
  }

  @ParameterizedTest
  @CsvSource({"1.37 kΩ, 30.14", "2.72 kΩ, 59.84"})
  void takesABleederJustInside(String bleeder, double seconds) throws IOException {
    BankConfig bank =
        RigFileTest.rig(with("bleeder", bleeder).replace("\"48 V\"", "\"47 V\"")).bank();

    assertThat(bank.bleederOhms() * bank.capacitanceFarads())
        .isCloseTo(seconds, Offset.offset(0.005));
  }

  /** R C ln(48 V / 10 V) with 22 mF is 5.0 s at 144.9 Ω. */
  @Test
  void refusesABleedContactThatTakesTooLong() throws IOException {
    assertThat(problemsWith("bleed_resistor", "146 Ω"))
        .singleElement()
        .asString()
        .contains("the bleed contact would take 5.0 s");
    assertThat(RigFileTest.rig(with("bleed_resistor", "144 Ω")).bank().bleedOhms()).isEqualTo(144);
  }

  /** The divider of 100 Ω and 2 kΩ leaves 47.62 of 50 V. */
  @Test
  void refusesAVoltageThatTheBankCannotReach() throws IOException {
    assertThat(problemsWith("fill_resistor", "100 Ω"))
        .singleElement()
        .asString()
        .contains("cannot reach 48.00 V")
        .contains("brings it to 47.62 V; ask at most 47.3 V");
  }

  @Test
  void refusesAResistorOfNoOhms() throws IOException {
    assertThat(problemsWith("fill_resistor", "0 Ω"))
        .singleElement()
        .asString()
        .contains("'0 Ω' is out of range for a resistance");
  }

  @Test
  void bleedsInNoTimeToWhereItAlreadyIs() throws IOException {
    BankConfig bank = RigFileTest.rig(RigFileTest.shipped()).bank();

    assertThat(bank.bleedSeconds(new Voltage(48))).isZero();
    assertThat(bank.bleedSeconds(new Voltage(49))).isZero();
  }

  private static List<String> problemsWith(String key, String value) throws IOException {
    return RigFileTest.problems(with(key, value));
  }

  /** The shipped file with another value for one key of [bank]. */
  private static String with(String key, String value) throws IOException {
    return RigFileTest.shipped().replaceFirst(key + " = \"[^\"]*\"", key + " = \"" + value + "\"");
  }
}
