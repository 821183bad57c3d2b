package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Set;
import java.util.TreeSet;
import lodestep.app.SaidForms;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.interlock.Condition;
import lodestep.panel.Enforcers;
import lodestep.port.TripCause;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.Test;

/**
 * Goal: what the rig itself says can be put into another language: each cause, each condition and
 * each sentence of a batch has its form in the page's bundle.
 */
class SaidByTheRigTest {

  private final SaidForms forms = SaidForms.ofTheBundle();

  @Test
  void hasEachCauseByItsNumberWithWhatToDoAndWhoActs() {
    for (TripCause cause : TripCause.values()) {
      String key = "says.cause." + cause.code();
      assertThat(forms.words(key)).isEqualTo(cause.what());
      assertThat(forms.unknown(cause.remedy())).isEmpty();
      assertThat(forms.unknown(Enforcers.of(cause))).isEmpty();
    }
  }

  @Test
  void hasEachConditionOfThePermissionByItsName() {
    for (Condition condition : Condition.values()) {
      assertThat(forms.unknown(condition.words())).as(condition.words()).isEmpty();
    }
  }

  @Test
  void hasEachSentenceAndEachReasonOfABatch() {
    Batch batch =
        Benches.batch(
            PlannerMode.CURVE,
            Benches.rod("rod", PoleUp.NORTH, Benches.level(650, 12), 2),
            Benches.bar("bar", PoleUp.SOUTH, Benches.level(-300, 8), 1));
    Set<String> said = new TreeSet<>();
    try (VirtualBench bench = Benches.bench(batch, 5, FaultPlan.NONE)) {
      while (!bench.done() && !bench.gaveUp()) {
        bench.runScan();
        said.add(bench.job().sentence());
      }
      bench.job().batch().entries().forEach(entry -> said.add(entry.end().orElseThrow().why()));
    }
    said.remove("done");
    said.add("the lid is open: close it, so that the work can go on");

    assertThat(said).hasSizeGreaterThan(12);
    assertThat(said).allSatisfy(text -> assertThat(forms.unknown(text)).as(text).isEmpty());
  }

  /** A form that means nothing by itself would swallow what has a form of its own. */
  @Test
  void tellsFormsApart() {
    assertThat(forms.unknown("nobody has ever said this")).isNotEmpty();
    assertThat(forms.unknown("charging; nobody has said this")).isNotEmpty();
    assertThat(
            forms.unknown(
                "thrush: the magnet is warmer or colder than its nest: its reading creeps by"
                    + " 1.0 G a minute; waiting until it lies still; leave it in its nest"))
        .isEmpty();
    assertThat(forms.all().stream().map(each -> each.getValue().asText()).distinct())
        .hasSameSizeAs(forms.all());
  }
}
