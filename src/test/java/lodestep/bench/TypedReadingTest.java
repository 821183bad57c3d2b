package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.Arrays;
import java.util.Optional;
import lodestep.measure.HandGaugeRelation;
import lodestep.measure.StandardUncertainty;
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

  private static Optional<String> doubt(String typed, double ownGauss, double... ratio) {
    Optional<HandGaugeRelation> relation =
        Arrays.stream(ratio)
            .mapToObj(
                hand ->
                    new HandGaugeRelation(
                        hand,
                        new StandardUncertainty(0.002, 4),
                        0.004,
                        FluxDensity.ofGauss(100),
                        FluxDensity.ofGauss(600)))
            .findFirst();
    return TypedReading.read(typed, "shelf gauge").doubt(FluxDensity.ofGauss(ownGauss), relation);
  }

  @Test
  void isOddWhereItsPoleIsNotTheOneThatTheRigRead() {
    assertThat(doubt("365 G south", 372).orElse("")).contains("its pole", "372.0 G north");
    assertThat(doubt("365 G north", -372).orElse("")).contains("its pole", "372.0 G south");
    assertThat(doubt("365 G south", -372)).isEmpty();
    assertThat(doubt("365 G", -372)).as("no pole was said").isEmpty();
    assertThat(doubt("3 G south", 2)).as("too weak for a pole").isEmpty();
  }

  @Test
  void isOddWhereItLiesFarFromWhatTheRigRead() {
    assertThat(doubt("3650 G", 372).orElse("")).contains("far from", "372.0 G north");
    assertThat(doubt("36 G", 372)).isPresent();
    assertThat(doubt("250 G", 372)).as("a gauge whose element lies deeper").isEmpty();
  }

  @Test
  void isHeldAgainstTheRelationWhereThereIsOne() {
    assertThat(doubt("409 G", 372, 1.1)).isEmpty();
    assertThat(doubt("372 G", 372, 1.1).orElse("")).contains("about 409.2 G", "372.0 G north");
    assertThat(doubt("250 G", 372, 1.1)).isPresent();
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
