package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import lodestep.measure.Seating;
import lodestep.measure.StandardUncertainty;
import org.junit.jupiter.api.Test;

/** Goal: several studies of a nest count together, the newest five, and others not at all. */
class NestSeatingsTest {

  private static NestSeatings.Known study(
      String nest, long standOffMicroMetres, long newest, double part, double freedom) {
    return new NestSeatings.Known(
        nest,
        standOffMicroMetres,
        newest,
        new Seating(new StandardUncertainty(part, freedom), "study " + newest));
  }

  @Test
  void isTheOneStudyWhereThereIsOne() {
    NestSeatings known = new NestSeatings(List.of(study("left", 1_500, 9, 0.002, 4)));

    assertThat(known.in("left", 1_500)).isEqualTo(known.known().get(0).seating());
    assertThat(known.in("left", 1_600)).isEqualTo(Seating.usual());
    assertThat(known.in("right", 1_500)).isEqualTo(Seating.usual());
  }

  /** √((4 × 0.1² + 4 × 0.2² + 24 × 0.3²) / 32) = √(2.36 / 32) = 0.27157 per cent. */
  @Test
  void poolsStudiesByTheirDegreesOfFreedom() {
    NestSeatings known =
        new NestSeatings(
            List.of(
                study("left", 1_500, 9, 0.001, 4),
                study("right", 1_500, 12, 0.009, 40),
                study("left", 1_500, 20, 0.003, 24),
                study("left", 1_500, 31, 0.002, 4)));

    Seating together = known.in("left", 1_500);

    assertThat(together.relative().value()).isCloseTo(0.0027157, within(1e-7));
    assertThat(together.relative().degreesOfFreedom()).isEqualTo(32);
    assertThat(together.known()).isEqualTo("study 31, with 2 before it");
    assertThat(known.before(31).in("left", 1_500).known()).isEqualTo("study 20, with 1 before it");
  }

  @Test
  void forgetsWhatIsOlderThanFiveStudies() {
    List<NestSeatings.Known> studies = new ArrayList<>();
    studies.add(study("left", 1_500, 1, 0.05, 9));
    for (int number = 2; number <= 6; number++) {
      studies.add(study("left", 1_500, number, 0.001, 9));
    }

    Seating together = new NestSeatings(studies).in("left", 1_500);

    assertThat(together.relative().value()).isCloseTo(0.001, within(1e-12));
    assertThat(together.relative().degreesOfFreedom()).isEqualTo(45);
  }
}
