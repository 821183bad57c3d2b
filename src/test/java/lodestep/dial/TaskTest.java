package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TaskTest {

  private static FluxDensity gauss(double gauss) {
    return FluxDensity.ofGauss(gauss);
  }

  @ParameterizedTest
  @CsvSource({"700, 670", "-700, -670", "30.1, 0.1"})
  void comesDownByAnAmountOnEitherPole(double foundGauss, double leftGauss) {
    assertThat(new Drop.By(gauss(30)).from(gauss(foundGauss)).orElseThrow().gauss())
        .isCloseTo(leftGauss, within(1e-9));
  }

  @ParameterizedTest
  @CsvSource({"30", "-29.9", "0"})
  void doesNotComeDownThroughNothing(double foundGauss) {
    assertThat(new Drop.By(gauss(30)).from(gauss(foundGauss))).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"700, 595", "-700, -595"})
  void comesDownByAPartOfWhatItReads(double foundGauss, double leftGauss) {
    assertThat(new Drop.ByPart(0.15).from(gauss(foundGauss)).orElseThrow().gauss())
        .isCloseTo(leftGauss, within(1e-9));
  }

  @Test
  void takesAPartAsToleranceOfTheLevelItComesTo() {
    Task.DownBy task = new Task.DownBy(new Drop.ByPart(0.15), new Tolerance.OfTarget(0.02));

    Task.ToLevel level = task.from(gauss(-700)).orElseThrow();

    assertThat(level.target().gauss()).isCloseTo(-595, within(1e-9));
    assertThat(level.tolerance().gauss()).isCloseTo(11.9, within(1e-9));
  }

  @Test
  void cannotComeDownToLessThanItsTolerance() {
    Task.DownBy task = new Task.DownBy(new Drop.By(gauss(30)), new Tolerance.Fixed(gauss(8)));

    assertThat(task.from(gauss(37.9))).isEmpty();
    assertThat(task.from(gauss(38.1))).isPresent();
  }

  @Test
  void refusesWhatCannotBeMeant() {
    assertRefused(() -> new Task.ToLevel(gauss(0), gauss(1)), "demagnetise");
    assertRefused(() -> new Task.ToLevel(gauss(-9), gauss(9)), "not between zero and the target");
    assertRefused(() -> new Task.ToLevel(gauss(9), gauss(0)), "not between zero and the target");
    assertRefused(() -> new Task.Demagnetise(gauss(0)), "not above zero");
    assertRefused(() -> new Drop.By(gauss(-1)), "not down");
    assertRefused(() -> new Drop.ByPart(1), "demagnetise");
    assertRefused(() -> new Drop.ByPart(Double.NaN), "not between");
    assertRefused(() -> new Tolerance.Fixed(gauss(0)), "not above zero");
    assertRefused(() -> new Tolerance.OfTarget(Double.NaN), "not between");
  }

  private static void assertRefused(Runnable making, String why) {
    assertThatThrownBy(making::run)
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining(why);
  }

  @ParameterizedTest
  @CsvSource({
    "12 %, 0.12",
    "12%, 0.12",
    ".5 per cent, 0.005",
    "1.25 percent, 0.0125",
    "-3 %, -0.03"
  })
  void readsPerCentAsWritten(String text, double fraction) {
    assertThat(Percent.fraction(text).orElseThrow()).isCloseTo(fraction, within(1e-15));
  }

  @Test
  void writesPerCentWithoutBinaryDust() {
    assertThat(Percent.words(0.07)).isEqualTo("7 %");
    assertThat(Percent.words(0.125)).isEqualTo("12.5 %");
    assertThat(Percent.fraction("12 G")).isEmpty();
    assertThat(Percent.fraction("%")).isEmpty();
  }

  @Test
  void signsALevelByThePole() {
    assertThat(PoleUp.NORTH.signed(gauss(-5))).isEqualTo(gauss(5));
    assertThat(PoleUp.SOUTH.signed(gauss(5))).isEqualTo(gauss(-5));
    assertThat(PoleUp.SOUTH.sign()).isEqualTo(-1);
  }
}
