package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.measure.PairedReadings;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ReadingSheetTest {

  @Test
  void personsMakeAStudyCrossed() {
    ReadingSheet.Study study =
        ReadingSheet.study("# by hand\nPerson,magnet,reading\nann,m1,401.5 G\nben,m1,40.2 mT\n");

    assertThat(study.crossed()).isTrue();
    assertThat(study.readings().get(0).appraiser()).isEqualTo("ann");
    assertThat(study.readings().get(1).value()).isCloseTo(0.0402, within(1e-12));
  }

  @Test
  void unitMayStandInTheHeading() {
    ReadingSheet.Study study = ReadingSheet.study("magnet,reading G\nm1,401.5\nm1,-402\n");

    assertThat(study.crossed()).isFalse();
    assertThat(study.readings().get(1).value()).isCloseTo(-0.0402, within(1e-12));
  }

  @Test
  void pairsAreReadFromBothGauges() {
    PairedReadings pairs = ReadingSheet.pairs("magnet,nest mT,hand G\nm1,30,330\n");

    assertThat(pairs.pairs().get(0).nest().gauss()).isCloseTo(300, within(1e-9));
    assertThat(pairs.pairs().get(0).hand().gauss()).isCloseTo(330, within(1e-9));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "magnet,reading\\nm1,401.5| line 2: '401.5' has no unit",
        "magnet,reading\\nm1,| line 2: the reading is left empty",
        "magnet,redding\\nm1,1 G| did you mean 'reading'?",
        "magnet\\nm1| the column 'reading' is missing",
        "magnet,reading| there is no heading with rows below it",
        "magnet,reading G\\n,400| line 2: the magnet is left empty"
      })
  void whatIsWrongIsToldWithItsPlace(String text, String told) {
    assertThatThrownBy(() -> ReadingSheet.study(text.replace("\\n", "\n")))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining(told);
  }
}
