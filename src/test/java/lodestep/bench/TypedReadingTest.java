package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class TypedReadingTest {

  @Test
  void takesThePoleByWordOrBySignAndNeverGuessesIt() {
    assertThat(TypedReading.read("45 mT south", "shelf gauge"))
        .isEqualTo(
            new TypedReading(new FluxDensity(-0.045), "south", "shelf gauge", "45 mT south"));
    assertThat(TypedReading.read("-410 G", "shelf gauge").pole()).isEqualTo("south");
    assertThat(TypedReading.read("+410 G", "shelf gauge").pole()).isEqualTo("north");
    assertThat(TypedReading.read("410 G North", "x").pole()).isEqualTo("north");
    assertThat(TypedReading.read("410 G", "shelf gauge").pole()).isEmpty();
  }

  @Test
  void takesTheGaugeFromTheTextBeforeTheUsualOne() {
    TypedReading reading = TypedReading.read(" 410 G by the loft's gauge", "shelf gauge");

    assertThat(reading.gauge()).isEqualTo("the loft's gauge");
    assertThat(reading.typed()).isEqualTo("410 G");
  }

  @Test
  void isOnRecordAsTyped() {
    assertThat(TypedReading.read("41 mT south by shelf gauge", "").entry(9))
        .isEqualTo(new LedgerEvent.ReadingTyped(9, -41_000, "south", "shelf gauge", "41 mT south"));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"", "north", "410", "410 V", "-410 G south", "99 T by shelf gauge", "by me"})
  void refusesWhatIsNoReading(String text) {
    assertThatIllegalArgumentException().isThrownBy(() -> TypedReading.read(text, "shelf gauge"));
  }

  @Test
  void asksWhoseReadingItIs() {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> TypedReading.read("410 G", " "))
        .withMessageContaining("whose reading is '410 G'")
        .withMessageContaining("by shelf gauge");
  }
}
