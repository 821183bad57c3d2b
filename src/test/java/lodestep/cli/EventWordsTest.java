package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import lodestep.port.GaugeEvent;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;

/** Goal: the history of gauge and rig is read by people: in their units, and with nothing blank. */
class EventWordsTest {

  @Test
  void figuresStandInUnitsThatAPersonReads() {
    assertThat(EventWords.fields(new LedgerEvent.ZeroTaken(-126_471, 3_177, 51, 2_150, 4)))
        .isEqualTo(
            "zero -126.5 counts, uncertainty 3.2 counts, samples 51, gauge 21.5 °C, calibration 4");
    assertThat(
            EventWords.fields(new LedgerEvent.CalibrationSet(500_000, -300, 2_000, 1_000, "lab")))
        .isEqualTo(
            "counts per tesla 500000, gain -0.03 % per kelvin, reference 20.0 °C,"
                + " gain standard uncertainty 0.1 %, source lab");
  }

  @Test
  void sizesAndRangesStandInMillimetresAndGauss() {
    GaugeEvent.HandGaugeRelated related =
        new GaugeEvent.HandGaugeRelated(
            "shelf gauge",
            "rod nest",
            1_500,
            "rod",
            List.of(4_700L, 15_000L),
            1_100_000,
            1_200,
            4_000,
            3_000,
            20_000,
            45_000,
            6,
            "pairs.csv");

    assertThat(EventWords.fields(related))
        .contains("size 4.70 x 15.00 mm", "stand off 1.50 mm", "from 200.0 G", "to 450.0 G")
        .contains("ratio 110 %", "freedom 4.0", "scatter 0.3 %")
        .doesNotContain("micro", "million", "thousandths");
  }

  @Test
  void longTextIsTold() {
    assertThat(EventWords.fields(new LedgerEvent.RigDescribed("ab".repeat(32), "a = 1\nb = 2\n")))
        .isEqualTo("text of 2 lines (--json shows it)");
  }

  @Test
  void magnetThatIsNoneIsNotNamed() {
    assertThat(EventWords.fields(new LedgerEvent.Tripped(12, "the lid was opened", "lid_a", 0)))
        .isEqualTo("code 12, cause the lid was opened, detail lid_a");
  }
}
