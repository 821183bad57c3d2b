package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lodestep.device.ActResult.Lesson;
import org.junit.jupiter.api.Test;

/** Goal: what the rig keeps of how its sources answer. */
class RigMemoryTest {

  private static RigMemory after(double... measuredOverExpected) {
    RigMemory memory = RigMemory.none();
    for (double ratio : measuredOverExpected) {
      memory = memory.after(new Lesson("coil", 20 * ratio, 20));
    }
    return memory;
  }

  /** What is expected counts the ratio known by then: what is left over multiplies it. */
  @Test
  void multipliesTheRatioKnownByWhatAnActShowsBeyondIt() {
    assertThat(after().ratio("coil")).isEqualTo(1);
    assertThat(after(1.1).ratio("coil")).isCloseTo(1.1, within(1e-12));
    assertThat(after(1.1, 1.05).ratio("coil")).isCloseTo(1.155, within(1e-12));
    assertThat(after(1.1, 0.9).ratio("coil")).isCloseTo(0.99, within(1e-12));
    assertThat(after(1.1).ratio("jig")).isEqualTo(1);
  }

  /** A quarter more is no drift of a coil but a fault of the rig, all steps taken together. */
  @Test
  void learnsNothingOfARatioThatIsNoDrift() {
    assertThat(after(1.24).ratio("coil")).isCloseTo(1.24, within(1e-12));
    assertThat(after(1.26).ratios()).isEmpty();
    assertThat(after(0.81).ratio("coil")).isCloseTo(0.81, within(1e-12));
    assertThat(after(0.79).ratios()).isEmpty();
    assertThat(after(1.2, 1.1).ratio("coil")).isCloseTo(1.2, within(1e-12));
    assertThat(after(Double.NaN).ratios()).isEmpty();
  }
}
