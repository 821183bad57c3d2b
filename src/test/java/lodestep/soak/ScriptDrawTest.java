package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Goal: what is drawn is as FAULTS asks: swarms that differ, aims that are near, all there is. */
class ScriptDrawTest {

  @ParameterizedTest
  @EnumSource(SoakRig.class)
  void drawsSwarmsOfWhichEachLacksAboutHalfOfTheKindsAndTogetherHaveAll(SoakRig rig) {
    Set<HappeningKind> ever = new HashSet<>();
    Set<String> on = new HashSet<>();
    int happenings = 0;
    for (long seed = 0; seed < 2_000; seed++) {
      Script script = new ScriptDraw(rig, new SplittableRandom(seed)).swarm();
      script.happenings().forEach(each -> ever.add(each.kind()));
      script.happenings().forEach(each -> on.add(each.kind() + each.on()));
      happenings += script.happenings().size();
      assertThat(script.healMs()).isBetween(30_000L, rig.faultyMsMax());
      assertThat(script.happenings()).allMatch(each -> each.atMs() >= 20);
    }
    assertThat(ever).containsExactlyInAnyOrderElementsOf(rig.kinds());
    int all = rig.kinds().stream().mapToInt(kind -> rig.on(kind).size()).sum();
    assertThat(on).as("every argument of every kind").hasSize(all);
    assertThat(happenings / 2_000.0).as("happenings a run").isBetween(3.0, 12.0);
  }

  @ParameterizedTest
  @EnumSource(SoakRig.class)
  void aimsWithinFiftyMillisecondsOfAChangeAndAtEveryStateAlike(SoakRig rig) {
    List<World.StateChange> changes =
        List.of(
            new World.StateChange(RigState.LOADING, 5_000),
            new World.StateChange(RigState.LOADING, 9_000),
            new World.StateChange(RigState.LOADING, 13_000),
            new World.StateChange(RigState.TOKEN, 20_000));
    int atToken = 0;
    int second = 0;
    for (long seed = 0; seed < 1_000; seed++) {
      Script script = new ScriptDraw(rig, new SplittableRandom(seed)).aimed(changes);
      Happening first = script.happenings().get(0);
      assertThat(changes).anyMatch(change -> Math.abs(change.atMs() - first.atMs()) <= 50);
      atToken += first.atMs() > 15_000 ? 1 : 0;
      second += script.happenings().size() - 1;
    }
    assertThat(atToken).as("of 1000 at the rarer state").isBetween(430, 570);
    assertThat(second).as("of 1000 with a second one").isBetween(190, 310);
  }
}
