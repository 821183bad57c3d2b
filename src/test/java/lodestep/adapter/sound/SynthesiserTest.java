package lodestep.adapter.sound;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import lodestep.port.Sound;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;

/**
 * Goal: the samples hold the tones that are promised, rise with nearness and never click. Method:
 * measured on the samples alone, by two general methods that know nothing of how they were made:
 * the number of rising zero crossings, and Goertzel's filter (Goertzel 1958, from memory), which
 * gives the strength of one frequency.
 */
class SynthesiserTest {

  private static final int SECOND = Synthesiser.RATE;

  /** Glide and ramp are over by then. */
  private static final int SETTLE = SECOND / 4;

  private static double[] settled(Sound sound) {
    Synthesiser synthesiser = new Synthesiser();
    synthesiser.next(sound, SETTLE);
    return synthesiser.next(sound, SECOND);
  }

  private static double hertzByCrossings(double[] second) {
    int first = -1;
    int last = -1;
    int crossings = -1;
    for (int i = 1; i < second.length; i++) {
      if (second[i - 1] < 0 && second[i] >= 0) {
        first = first < 0 ? i : first;
        last = i;
        crossings++;
      }
    }
    return crossings * (double) SECOND / (last - first);
  }

  /** Amplitude of this frequency in these samples. */
  private static double strength(double[] samples, double hertz) {
    double twiceCosine = 2 * Math.cos(2 * Math.PI * hertz / SECOND);
    double before = 0;
    double now = 0;
    for (double sample : samples) {
      double next = sample + twiceCosine * now - before;
      before = now;
      now = next;
    }
    double power = now * now + before * before - twiceCosine * now * before;
    return 2 * Math.sqrt(power) / samples.length;
  }

  @Test
  void risesByTwoOctavesAndNeverFallsOnTheWay() {
    List<Double> heard = new ArrayList<>();
    for (int hundredth = 0; hundredth <= 100; hundredth++) {
      heard.add(hertzByCrossings(settled(new Sound.Rising(hundredth * 0.01))));
    }

    assertThat(heard).isSorted().doesNotHaveDuplicates();
    assertThat(heard.get(0)).isCloseTo(300, Percentage.withPercentage(0.1));
    // An octave is a doubling: the middle lies one above the begin, the end two.
    assertThat(heard.get(50)).isCloseTo(600, Percentage.withPercentage(0.1));
    assertThat(heard.get(100)).isCloseTo(1_200, Percentage.withPercentage(0.1));
  }

  @Test
  void holdsOneToneWhileItRises() {
    double[] half = settled(new Sound.Rising(0.5));

    assertThat(strength(half, 600)).isCloseTo(0.22, Percentage.withPercentage(1));
    assertThat(strength(half, 900)).as("no fifth above it").isLessThan(0.001);
  }

  @Test
  void holdsTwoSteadyTonesAFifthApartInsideTheBand() {
    double[] first = settled(new Sound.Inside());
    Synthesiser later = new Synthesiser();
    later.next(new Sound.Inside(), 5 * SECOND);
    double[] fiveSecondsOn = later.next(new Sound.Inside(), SECOND);

    for (double[] second : List.of(first, fiveSecondsOn)) {
      assertThat(strength(second, 1_600)).isCloseTo(0.22, Percentage.withPercentage(1));
      assertThat(strength(second, 2_400)).isCloseTo(0.22, Percentage.withPercentage(1));
      assertThat(strength(second, 1_200)).as("the top of what rises").isLessThan(0.001);
    }
  }

  @Test
  void soundsTwoLowTonesInTurnWhenPastTheBand() {
    Synthesiser synthesiser = new Synthesiser();
    List<Double> heard = new ArrayList<>();
    for (int turn = 0; turn < 6; turn++) {
      double[] eighth = synthesiser.next(new Sound.Past(), SECOND / 8);
      double[] lateHalf = Arrays.copyOfRange(eighth, SECOND / 16, SECOND / 8);
      heard.add(strength(lateHalf, 520) > strength(lateHalf, 390) ? 520.0 : 390.0);
      assertThat(strength(lateHalf, heard.get(turn))).isGreaterThan(0.2);
    }

    assertThat(heard).containsExactly(520.0, 390.0, 520.0, 390.0, 520.0, 390.0);
  }

  /**
   * A click is a step no tone has. The steepest tones are the two inside the band; ramps add their
   * own, at most full loudness in a hundredth of a second.
   */
  @Test
  void neverClicksWhateverFollowsWhatever() {
    double steepest = 0.22 * 2 * Math.PI * (1_600 + 2_400) / SECOND;
    double ramps = 2 * 0.22 / (0.01 * SECOND);
    List<Sound> sounds =
        List.of(
            new Sound.Silent(),
            new Sound.Rising(0),
            new Sound.Rising(1),
            new Sound.Inside(),
            new Sound.Past());
    Synthesiser synthesiser = new Synthesiser();
    double last = 0;
    for (Sound from : sounds) {
      for (Sound to : sounds) {
        for (int block = 0; block < 40; block++) {
          for (double sample : synthesiser.next(block < 20 ? from : to, 221)) {
            assertThat(Math.abs(sample - last)).isLessThanOrEqualTo(steepest + ramps);
            last = sample;
          }
        }
      }
    }
    assertThat(steepest + ramps).as("below a jump from full to nothing").isLessThan(0.3);
  }

  /** Where nothing is steep, nothing may be: a change of pitch alone keeps to the pitch's steps. */
  @Test
  void glidesFromTheLowestPitchToTheHighest() {
    Synthesiser synthesiser = new Synthesiser();
    double last = synthesiser.next(new Sound.Rising(0), SETTLE)[SETTLE - 1];
    double bound = 1.001 * 0.22 * 2 * Math.PI * 1_200 / SECOND;
    for (double sample : synthesiser.next(new Sound.Rising(1), SETTLE)) {
      assertThat(Math.abs(sample - last)).isLessThanOrEqualTo(bound);
      last = sample;
    }
  }

  @Test
  void fallsSilentWithinABlockAndStaysSo() {
    Synthesiser synthesiser = new Synthesiser();
    synthesiser.next(new Sound.Inside(), SETTLE);
    synthesiser.next(new Sound.Silent(), SpeakerTone.BLOCK + 1);

    assertThat(Arrays.stream(synthesiser.next(new Sound.Silent(), SECOND)).boxed())
        .allMatch(sample -> sample == 0);
  }

  @Test
  void writesSixteenBitsLowByteFirst() {
    ByteBuffer bytes =
        ByteBuffer.wrap(new Synthesiser().nextBytes(new Sound.Rising(0.3), SETTLE))
            .order(ByteOrder.LITTLE_ENDIAN);
    double[] samples = new Synthesiser().next(new Sound.Rising(0.3), SETTLE);

    for (double sample : samples) {
      assertThat(bytes.getShort() / 32_767.0).isCloseTo(sample, within(0.5 / 32_767));
    }
    assertThat(bytes.hasRemaining()).isFalse();
  }

  private static org.assertj.core.data.Offset<Double> within(double offset) {
    return org.assertj.core.data.Offset.offset(offset + 1e-9);
  }
}
