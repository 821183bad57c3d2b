package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import lodestep.device.FillState;
import lodestep.device.ProveState;
import lodestep.device.PulseState;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: in no state that interlocks and pulse can come to from power-on is a rule of safety broken,
 * and out of every one of them the rig comes to work again. Method: breadth-first over all states
 * and all choices of person, disk and failing part; the failure message is the shortest way there.
 */
class ExplorationTest {

  private static final long SCAN_MS = 50;
  private static final long HELD_MS = 150;

  /** States of a pulse that a sound rig comes through. */
  private static final Set<Class<?>> OF_A_PULSE =
      Set.of(
          ProveState.SetPath.class,
          ProveState.OpenBleed.class,
          ProveState.FillLittle.class,
          ProveState.Stand.class,
          ProveState.Bleed.class,
          FillState.SetRelays.class,
          FillState.OpenBleed.class,
          FillState.Fill.class,
          FillState.FillOpens.class,
          FillState.Fall.class,
          PulseState.AwaitToken.class,
          PulseState.Meet.class,
          PulseState.AwaitWindow.class,
          PulseState.Fire.class,
          PulseState.AwaitReport.class);

  /** Some thousand to some hundred thousand states each; every one is also healed. */
  @ParameterizedTest
  @EnumSource(
      value = Deviation.Group.class,
      names = {"HELLO", "RELAYS", "PROGRAM"})
  void breaksNoRuleInAnyStateOfAPulseAndComesToWorkAgainFromEach(Deviation.Group group) {
    explorePulse(group.deviations());
  }

  @ParameterizedTest
  @EnumSource(PlantedInterlock.class)
  void findsEveryMistakePlantedInTheInterlocks(PlantedInterlock mistake) {
    Explorer.Found found = exploreWith(mistake);

    assertThat(found.broken()).as(found.words()).isPresent();
    assertThat(found.path()).as("the way to break it").isNotEmpty();
  }

  @Test
  void explainsTheShortestWayToBreakARule() {
    Explorer.Found found = exploreWith(PlantedInterlock.SECOND_LID_CONTACT_NOT_READ);

    assertThat(String.join("; ", found.path())).contains("LID_B_OPEN");
    assertThat(found.path()).as("scans").hasSizeLessThan(10);
  }

  /** The groups with more states, up to some millions. */
  @Tag("exhaust")
  @ParameterizedTest
  @EnumSource(
      value = Deviation.Group.class,
      mode = EnumSource.Mode.EXCLUDE,
      names = {"HELLO", "RELAYS", "PROGRAM"})
  void breaksNoRuleNorStaysStuckInTheLargeGroups(Deviation.Group group) {
    explorePulse(group.deviations());
  }

  @Tag("exhaust")
  @ParameterizedTest
  @EnumSource(Deviation.Group.class)
  void breaksNoRuleWhateverAnyJobAsksFor(Deviation.Group group) {
    Explorer.Found found =
        new Explorer<>(new ExploredRig(SCAN_MS, HELD_MS, group.deviations(), ExploredJob.ALL))
            .explore();

    System.out.printf(Locale.ROOT, "any job, %s: %s%n", group, found.words());
    assertThat(found.broken()).as(found.words()).isEmpty();
  }

  @Tag("exhaust")
  @ParameterizedTest
  @MethodSource("pairs")
  void breaksNoRuleWithTwoGroupsAtOnce(Deviation.Group one, Deviation.Group other) {
    List<Deviation> both = new ArrayList<>(one.deviations());
    both.addAll(other.deviations());
    Explorer.Found found = new Explorer<>(new ExploredPulse(SCAN_MS, both)).explore();
    System.out.printf(Locale.ROOT, "pulse, %s and %s: %s%n", one, other, found.words());

    assertThat(found.broken()).as(found.words()).isEmpty();
  }

  private static Stream<Arguments> pairs() {
    Deviation.Group[] all = Deviation.Group.values();
    return Stream.of(all)
        .flatMap(
            one ->
                Stream.of(all)
                    .filter(other -> one.compareTo(other) < 0)
                    .map(other -> Arguments.of(one, other)));
  }

  private static Explorer.Found exploreWith(PlantedInterlock mistake) {
    return new Explorer<>(
            new ExploredRig(
                SCAN_MS,
                HELD_MS,
                mistake.among(),
                ExploredJob.ALL,
                mistake.in(ExploredRig.logic(HELD_MS))))
        .explore();
  }

  private static void explorePulse(List<Deviation> deviations) {
    ExploredPulse machine = new ExploredPulse(SCAN_MS, deviations);
    Set<Class<?>> reached = new HashSet<>();
    Set<String> stuck = new TreeSet<>();
    Explorer.Found found =
        new Explorer<>(machine)
            .explore(
                place -> {
                  place.act().ifPresent(act -> reached.add(act.getClass()));
                  machine.stuck(place).ifPresent(stuck::add);
                });

    System.out.printf(Locale.ROOT, "pulse, %s: %s%n", deviations, found.words());
    assertThat(found.broken()).as(found.words()).isEmpty();
    assertThat(stuck).as("what keeps a mended rig from working").isEmpty();
    assertThat(reached).as("states of a pulse").containsAll(OF_A_PULSE);
  }
}
