package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Collections;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * Goal: when the magnets of a kind are said to have wandered together, and which of gauge and coil
 * is to be looked at. Method: closed form. After n magnets that each surprise by s the weighted
 * mean is s (1 - 0.7^n), and it is remarked above 3 sqrt(0.3 / 1.7) = 1.26 (NIST/SEMATECH
 * e-Handbook of Statistical Methods, 6.3.2.4).
 */
class DriftTest {

  private static List<Surprise> alike(int magnets, double full, double field) {
    return Collections.nCopies(magnets, new Surprise(full, 0, field, 0.5));
  }

  /** Five magnets that lie off by 2 come to 1.66 and six to 1.76, but five say little. */
  @Test
  void remarksNothingBeforeTheSixthMagnet() {
    assertThat(Drift.of(alike(5, 2, 0))).isEmpty();
    assertThat(Drift.of(alike(6, 2, 0))).isPresent();
  }

  /** 1.42 (1 - 0.7^6) is 1.253, and 1.44 (1 - 0.7^6) is 1.271. */
  @Test
  void remarksAMeanBeyondTheLimitOfTheChart() {
    assertThat(Drift.of(alike(6, 1.42, 0))).isEmpty();
    assertThat(Drift.of(alike(6, 1.44, 0))).isPresent();
    assertThat(Drift.of(alike(6, 0, -1.42))).isEmpty();
    assertThat(Drift.of(alike(6, 0, -1.44))).isPresent();
  }

  private static String remark(double full, double field) {
    return Drift.of(alike(8, full, field)).orElseThrow();
  }

  @Test
  void saysWhichWayTheyHaveWanderedAndWhatToLookAt() {
    assertThat(remark(-2, 1))
        .isEqualTo(
            "the last magnets of its kind read less and less fully charged; read a reference"
                + " magnet, and see that the nest is clean");
    assertThat(remark(2, -1)).contains("read more and more fully charged", "reference magnet");
    assertThat(remark(1, -2))
        .isEqualTo("the last magnets of its kind need less and less field; see to the coil");
    assertThat(remark(-1, 2)).contains("need more and more field", "see to the coil");
  }

  /** A gauge that reads wrong shows in both; a coil shows in the field alone. */
  @Test
  void looksAtTheGaugeFirstWhereBothHaveWanderedAlike() {
    assertThat(remark(2, 2)).contains("reference magnet");
    assertThat(remark(-2, 2)).contains("reference magnet");
  }

  /** The newest counts by 0.3: 0.9 as it is held to 3, where the twenty that it lies off make 6. */
  @Test
  void makesNoDriftOfOneOddMagnet() {
    List<Surprise> odd =
        Stream.concat(alike(9, 0, 0).stream(), alike(1, 20, -20).stream()).toList();

    assertThat(Drift.of(odd)).isEmpty();
  }
}
