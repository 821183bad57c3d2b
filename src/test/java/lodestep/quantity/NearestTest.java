package lodestep.quantity;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.StringLength;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class NearestTest {

  /** The first two pairs and their distances are the customary textbook examples, from memory. */
  @ParameterizedTest
  @CsvSource({
    "kitten, sitting, 3",
    "Saturday, Sunday, 3",
    "ca, abc, 3",
    "bnak, bank, 1",
    "'', abc, 3"
  })
  void countsEdits(String left, String right, int edits) {
    assertThat(Nearest.distance(left, right)).isEqualTo(edits);
  }

  @Property
  void isTheSameBothWaysAndZeroOnlyForTheSame(
      @ForAll @StringLength(max = 8) String left, @ForAll @StringLength(max = 8) String right) {
    assertThat(Nearest.distance(left, right)).isEqualTo(Nearest.distance(right, left));
    assertThat(Nearest.distance(left, right) == 0).isEqualTo(left.equals(right));
  }

  @Test
  void offersNothingWhenNothingIsNear() {
    assertThat(Nearest.names("voltage", List.of("coil", "nest"))).isEmpty();
    assertThat(Nearest.names("voltage", List.of())).isEmpty();
    assertThat(Nearest.hint("voltage", List.of("coil", "nest"))).isEmpty();
  }

  @Test
  void offersTheNearestAlone() {
    assertThat(Nearest.hint("lid_aa", List.of("lid_a", "lid_b")))
        .isEqualTo("; did you mean 'lid_a'?");
  }

  @Test
  void offersEquallyNearNamesTogether() {
    assertThat(Nearest.names("lid_c", List.of("lid_a", "lid_b", "coil")))
        .containsExactly("lid_a", "lid_b");
    assertThat(Nearest.hint("lid_c", List.of("lid_a", "lid_b", "coil")))
        .isEqualTo("; did you mean 'lid_a' or 'lid_b'?");
  }

  @Test
  void doesNotGuessAmongManyEquallyNearNames() {
    assertThat(Nearest.hint("size 9", List.of("size 1", "size 2", "size 3"))).contains("size 3");
    assertThat(Nearest.hint("size 9", List.of("size 1", "size 2", "size 3", "size 4"))).isEmpty();
  }
}
