package lodestep.config;

import static lodestep.config.RigFileTest.problems;
import static lodestep.config.RigFileTest.rig;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: a switched coil's supply and ladder are read as written, and refused when they mislead. */
class SupplyTest {

  private static String shipped() throws IOException {
    return Files.readString(
        Path.of(
            System.getProperty("lodestep.repository", "."),
            "firmware-host/board/rig-virtual-switched.toml"));
  }

  private static String with(String key, String value) throws IOException {
    return shipped().replaceAll("(?m)^" + key + " = .*$", key + " = " + value);
  }

  @Test
  void readsTheShippedRig() throws IOException {
    RigConfig rig = rig(shipped());

    SupplyConfig supply = rig.supply().orElseThrow();
    assertThat(rig.bank()).isEqualTo(BankConfig.NONE);
    assertThat(rig.headAlone()).isFalse();
    assertThat(supply.ladderOhms()).hasSize(8).startsWith(1270.0).endsWith(9.76);
    assertThat(supply.levels()).isEqualTo(255);
    assertThat(supply.onTimeNs()).isEqualTo(60_000_000);
    assertThat(supply.longestNs()).isEqualTo(120_000_000);
  }

  @Test
  void putsTheResistorsInParallelAndTheCoilInSeries() throws IOException {
    SupplyConfig supply = rig(shipped()).supply().orElseThrow();

    // Ohm's law by hand: 39.2 and 9.76 in parallel are 7.8144; with 1.55 and 48 V, 5.1257 A.
    assertThat(supply.amps(0b1010_0000, 1.55)).isCloseTo(5.1257, within(1e-3));
    // 48 V over 1.55 would be 30.97 A; the supply holds 27.
    assertThat(supply.fullAmps(1.55)).isEqualTo(27);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "voltage | \"60 V\" | 'voltage' must be 10 V to 50 V, not 60.00 V",
        "current_limit | \"40 A\" | 'current_limit' must be 1 A to 30 A, not 40.00 A",
        "discharge_resistor | \"10 kΩ\" | must be above zero and at most 1000 Ω",
        "ladder | [\"100 Ω\", \"50 Ω\"] | must name 3 to 8 resistors, one for each relay, not 2",
        "ladder | [\"100 Ω\", \"200 Ω\", \"400 Ω\"] | does not give rising, nearly equal steps",
        "ladder | \"100 Ω\" | 'ladder' must be a list of texts in quotes",
        "ladder | [\"100 Ω\", \"50\", \"25 Ω\"] | 'ladder':",
        "longest_pulse_ms | 70 | the hardware timer would cut every pulse",
        "longest_pulse_ms | 300 | 'longest_pulse_ms' must be a whole number from 20 to 250",
        "on_time_ms | 5 | 'on_time_ms' must be a whole number from 20 to 250"
      })
  void refusesWhatCouldHurtOrMislead(String key, String value, String sentence) throws IOException {
    assertThat(problems(with(key, value))).singleElement().asString().contains(sentence);
  }

  @Test
  void refusesABankBesideTheSupply() throws IOException {
    String bank =
        RigFileTest.shipped()
            .substring(
                RigFileTest.shipped().indexOf("[bank]"), RigFileTest.shipped().indexOf("[[coil]]"));

    assertThat(problems(shipped() + "\n" + bank))
        .singleElement()
        .asString()
        .contains("a coil is fed by a [bank] or by a [supply], not by both");
  }

  @Test
  void refusesASeriesResistorBesideTheLadder() throws IOException {
    String text = shipped().replace("inductance =", "series_resistor = \"4.7 Ω\"\ninductance =");

    assertThat(problems(text))
        .singleElement()
        .asString()
        .contains("has the supply's 'ladder' and no series resistor of its own");
  }

  @Test
  void wantsAPinForEachRelayOfTheLadderAndNoneOfTheBanks() throws IOException {
    PinNames names = PinNames.of(true, rig(shipped()).supply(), false);

    assertThat(names.needed())
        .contains("coil_on", "ladder_1", "ladder_8", "bleed_contact", "coil_full")
        .doesNotContain("bank_fill", "bank_hold", "fill_contact");
    assertThat(PinNames.of(true, Optional.empty(), false).needed())
        .doesNotContain("coil_on", "ladder_1");
  }
}
