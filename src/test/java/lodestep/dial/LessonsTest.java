package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lodestep.magnet.KnockDownCurve;
import lodestep.quantity.FieldStrength;
import org.junit.jupiter.api.Test;

/** The aim grows bolder with what magnets of a kind have taught, and no other way. */
class LessonsTest {

  /** Falls evenly, by a hundredth for 500 A/m. */
  private static final KnockDownCurve CURVE =
      new KnockDownCurve(new FieldStrength(25_000), List.of(1.0, 0.5, 0.0, -0.5));

  private static final List<Progress.Point> CHARGED = List.of(new Progress.Point(0, 0.1));

  @Test
  void takesMoreOfTheWayAtFirstWhenTheKindHasTaught() {
    double untaught = new KnockDownAim(CURVE, 0.06, 0.001, 0, false).secant(CHARGED);
    double taught = new KnockDownAim(CURVE, 0.06, 0.001, 0, true).secant(CHARGED);

    assertThat(untaught).isCloseTo(0.65 * 19_850, within(10.0));
    assertThat(taught).isCloseTo(0.85 * 19_850, within(10.0));
  }

  @Test
  void keepsARatioThatMagnetsHaveTaughtForTheirKindAlone() {
    RigMemory memory = RigMemory.none().withRatio("jig, this kind", 0.9);

    assertThat(memory.ratio("jig, this kind")).isEqualTo(0.9);
    assertThat(memory.ratio("jig, another")).isEqualTo(1);
  }
}
