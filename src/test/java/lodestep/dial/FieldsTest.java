package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import lodestep.quantity.FieldStrength;
import org.junit.jupiter.api.Test;

/** Goal: what a source is asked for is never above what was wanted of it. */
class FieldsTest {

  private static FieldStrength field(double amperesPerMetre) {
    return new FieldStrength(amperesPerMetre);
  }

  @Test
  void takesAnyFieldBetweenTheWeakestAndTheStrongest() {
    Fields fields = new Fields.Continuous(field(300), field(9000));

    assertThat(fields.atMost(field(299))).isEmpty();
    assertThat(fields.atMost(field(300))).contains(field(300));
    assertThat(fields.atMost(field(4321))).contains(field(4321));
    assertThat(fields.atMost(field(9001))).contains(field(9000));
    assertThat(fields.most()).isEqualTo(field(9000));
  }

  @Test
  void takesTheLevelBelowWhatIsWanted() {
    Fields fields = new Fields.Levels(List.of(field(1000), field(2000), field(3000)));

    assertThat(fields.atMost(field(999))).isEmpty();
    assertThat(fields.atMost(field(1999))).contains(field(1000));
    assertThat(fields.atMost(field(2000))).contains(field(2000));
    assertThat(fields.atMost(field(9999))).contains(field(3000));
    assertThat(fields.most()).isEqualTo(field(3000));
  }

  @Test
  void findsTheNextFieldThatCanBeToldFromTheLast() {
    Fields any = new Fields.Continuous(field(300), field(9000));
    Fields levels = new Fields.Levels(List.of(field(1000), field(2000), field(3000)));

    assertThat(any.above(field(0))).contains(field(300));
    assertThat(any.above(field(2000))).contains(field(2000 * Fields.LEAST_GROWTH));
    assertThat(any.above(field(9000))).isEmpty();
    assertThat(levels.above(field(0))).contains(field(1000));
    // As measured, the level that was made is never quite the level that was asked.
    assertThat(levels.above(field(999.5))).contains(field(2000));
    assertThat(levels.above(field(3000))).isEmpty();
  }

  @Test
  void findsNoFieldThatCannotBeToldFromTheLast() {
    Fields one = new Fields.Continuous(field(9000), field(9000));
    Fields levels = new Fields.Levels(List.of(field(2000 * Fields.LEAST_GROWTH)));

    assertThat(one.above(field(0))).contains(field(9000));
    assertThat(levels.above(field(2000))).isEmpty();
    assertThat(levels.above(field(1999))).isPresent();
  }
}
