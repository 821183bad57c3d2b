package lodestep.device;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** Goal: a coil that carries what it never used to is told, once and until a person has seen it. */
class UsualCurrentsTest {

  private static UsualCurrents after(UsualCurrents before, boolean full, double... ratios) {
    UsualCurrents known = before;
    for (double ratio : ratios) {
      known = known.with(new Carried("rod coil", full, ratio));
    }
    return known;
  }

  private static UsualCurrents charging(UsualCurrents before, double... ratios) {
    return after(before, true, ratios);
  }

  private static final UsualCurrents USUAL =
      charging(UsualCurrents.UNKNOWN, 1.02, 1.021, 1.019, 1.02, 1.02);

  @Test
  void judgesNothingBeforeFivePulsesInARowAgree() {
    UsualCurrents few = charging(UsualCurrents.UNKNOWN, 1.02, 1.02, 1.02, 1.02);
    assertThat(charging(few, 1.3).off()).isEmpty();
    assertThat(charging(USUAL, 1.3).off()).isPresent();
  }

  @Test
  void beginsToLearnAnewWhenAPulseDoesNotAgreeWithTheFewBeforeIt() {
    UsualCurrents known = charging(UsualCurrents.UNKNOWN, 1.2, 1.2, 1.0, 1.0, 1.0, 1.0, 1.0);
    assertThat(charging(known, 1.02).off()).isEmpty();
    assertThat(charging(known, 1.2).off()).isPresent();
  }

  @Test
  void allowsEightPerCentOffWhatIsUsualAndNoMore() {
    assertThat(charging(USUAL, 1.02 * 1.079).off()).isEmpty();
    assertThat(charging(USUAL, 1.02 * 0.921).off()).isEmpty();
    assertThat(charging(USUAL, 1.02 * 1.081).off().orElseThrow().part())
        .isCloseTo(0.081, within(1e-9));
    assertThat(charging(USUAL, 1.02 * 0.919).off().orElseThrow().part())
        .isCloseTo(-0.081, within(1e-9));
  }

  @Test
  void doesNotLearnASlowDriftForUsual() {
    UsualCurrents known = USUAL;
    for (double ratio = 1.02; ratio < 1.1; ratio += 0.005) {
      known = charging(known, ratio);
    }
    assertThat(charging(known, 1.11).off()).isPresent();
  }

  @Test
  void saysWhatWasSeenAndWhatToDo() {
    assertThat(USUAL.sentence()).isEmpty();
    assertThat(charging(USUAL, 1.224).sentence().orElseThrow())
        .startsWith("the rod coil carried 20 % more current than it used to: turns are shorted")
        .endsWith("then go on");
    assertThat(charging(USUAL, 0.867).sentence().orElseThrow())
        .startsWith("the rod coil carried 15 % less current than it used to: a terminal is loose");
  }

  @Test
  void knowsEachRangeByItself() {
    UsualCurrents known = after(USUAL, false, 0.9, 0.9, 0.9, 0.9, 0.9);
    assertThat(after(known, false, 0.9).off()).isEmpty();
    assertThat(after(known, false, 1.02).off()).isPresent();
    assertThat(charging(known, 1.02).off()).isEmpty();
  }

  @Test
  void keepsWhatIsUsualWhenTheCoilIsAsItWasAfterAPersonHasSeenToIt() {
    UsualCurrents seen = charging(USUAL, 1.2).seenTo();
    assertThat(seen.off()).isEmpty();
    UsualCurrents mended = charging(seen, 1.02);
    assertThat(mended.off()).isEmpty();
    assertThat(charging(mended, 1.2).off().orElseThrow().still()).isFalse();
  }

  @Test
  void takesForUsualWhatAPersonHasSeenToTwice() {
    UsualCurrents still = charging(charging(USUAL, 1.2).seenTo(), 1.2);
    assertThat(still.off().orElseThrow().still()).isTrue();
    assertThat(still.sentence().orElseThrow())
        .startsWith("the rod coil still carries 18 % more current than it used to");
    UsualCurrents anew = charging(still.seenTo(), 1.2, 1.2, 1.2, 1.2);
    assertThat(charging(anew, 1.2).off()).isEmpty();
    assertThat(charging(anew, 1.02).off()).isPresent();
  }

  @Test
  void hasNothingToSeeToWhileAllIsAsUsual() {
    assertThat(USUAL.seenTo()).isEqualTo(USUAL);
  }
}
