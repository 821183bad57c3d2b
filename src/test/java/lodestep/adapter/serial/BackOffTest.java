package lodestep.adapter.serial;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class BackOffTest {

  @Test
  void doublesFromAQuarterOfASecondToFiveSeconds() {
    assertThat(Stream.iterate(BackOff.first(), BackOff::next).limit(7))
        .extracting(backOff -> backOff.waitNs() / 1_000_000)
        .containsExactly(250L, 500L, 1_000L, 2_000L, 4_000L, 5_000L, 5_000L);
  }
}
