package lodestep.scenario;

import static lodestep.scenario.JigBenches.JIG;
import static lodestep.scenario.JigBenches.all;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import lodestep.config.JigConfig;
import lodestep.config.RigConfig;
import lodestep.config.Sources;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: a jig's travel budget refuses nothing that is right, and says what it refuses for. Method:
 * whole batches on the shipped rig with less travel than its reader would take.
 */
class JigTravelBudgetTest {

  private static final long SEED = 23;
  private static final double GAUSS = 600;
  private static final double TOLERANCE = 9;
  private static final int COUNT = 3;

  private static RigConfig allowing(int strokes) {
    JigConfig jig = JIG.jig().orElseThrow();
    Length budget = new Length(strokes * 2 * jig.screw().travel().metres());
    JigConfig less =
        new JigConfig(
            jig.screw(),
            jig.magnet(),
            jig.heightAtHome(),
            jig.smallestGap(),
            budget,
            jig.temperatureMax());
    assertThat(less.strokesMax()).isEqualTo(strokes);
    return JIG.with(new Sources(JIG.sources().charge(), JIG.sources().knockDown(), List.of(less)));
  }

  private static List<LedgerEvent> run(int strokes, double tolerance) {
    RigConfig rig = allowing(strokes);
    return JigBenches.run(rig, SEED, JigBenches.rods(rig, Benches.level(GAUSS, tolerance), COUNT));
  }

  private static List<LedgerEvent.VerdictGiven> verdicts(List<LedgerEvent> events) {
    return all(events, LedgerEvent.VerdictGiven.class);
  }

  private static long strokes(List<LedgerEvent> events, LedgerEvent.VerdictGiven of) {
    return all(events, ActEvent.StrokeIntended.class).stream()
        .filter(stroke -> stroke.magnet() == of.magnet())
        .count();
  }

  /**
   * The second of two strokes would bring the first rod into its band, and none would prove it.
   * What it has shown lets the others come there with their first.
   */
  @Test
  void keepsTheLastStrokeForTheProofAndSaysSo() {
    List<LedgerEvent> events = run(2, TOLERANCE);
    List<LedgerEvent.VerdictGiven> verdicts = verdicts(events);
    LedgerEvent.VerdictGiven first = verdicts.get(0);

    assertThat(verdicts).as("a refused magnet holds nothing up").hasSize(COUNT);
    assertThat(first.verdict()).isEqualTo("refused");
    assertThat(first.why())
        .startsWith("the travel budget of this jig is used up: it reads ")
        .contains(" after 1 stroke, ", "is kept for the proof", "raise travel_budget")
        .doesNotContain("whole");
    assertThat(first.fieldMicroTesla()).isGreaterThan(Math.round((GAUSS + TOLERANCE) * 100));
    assertThat(strokes(events, first)).isEqualTo(1);
    assertThat(verdicts.subList(1, COUNT))
        .allSatisfy(
            verdict -> {
              assertThat(verdict.verdict()).as(verdict.why()).isEqualTo("accepted");
              assertThat(strokes(events, verdict)).isEqualTo(2);
            });
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 4, 8})
  void acceptsWhatTheLastStrokeProves(int strokes) {
    List<LedgerEvent> events = run(strokes, TOLERANCE);

    assertThat(verdicts(events))
        .hasSize(COUNT)
        .allSatisfy(
            verdict -> {
              assertThat(verdict.verdict()).as(verdict.why()).isEqualTo("accepted");
              assertThat(strokes(events, verdict)).isLessThanOrEqualTo(strokes);
            });
  }

  /** With a narrow band some need a stroke more than others; none is refused inside it. */
  @ParameterizedTest
  @ValueSource(ints = {2, 3, 4})
  void refusesNoMagnetInsideItsBand(int strokes) {
    double tolerance = 4;
    assertThat(verdicts(run(strokes, tolerance)))
        .hasSize(COUNT)
        .filteredOn(verdict -> !verdict.verdict().equals("accepted"))
        .allSatisfy(
            verdict ->
                assertThat(Math.abs(verdict.fieldMicroTesla() - GAUSS * 100))
                    .as(verdict.why())
                    .isGreaterThan((tolerance - 1.5) * 100));
  }
}
