package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.Stream;
import lodestep.device.FeedState;
import lodestep.device.FillState;
import lodestep.device.JigMove;
import lodestep.device.ProveState;
import lodestep.device.PulseState;
import lodestep.device.StrokeState;
import lodestep.port.OutputLine;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: in no state that interlocks and sequence can come to from power-on is a rule of safety
 * broken, and out of every one of them the rig comes to work again: a pulse of a bank, a pulse of a
 * switched coil, a stroke of the jig. Method: breadth-first over all states and all choices of
 * person, disk and failing part, with no bound on their number; the failure message is the shortest
 * way there.
 */
class ExplorationTest {

  private static final long SCAN_MS = 50;

  /** The shortest in which a bank can be proven: without a proof no job would ever fire. */
  private static final long HELD_MS = 250;

  /** Bound of LIV-1: ready ten seconds after the reset. */
  private static final int READY_SCANS = (int) (10_000 / SCAN_MS);

  /** The rigs whose work is explored. */
  private static final List<ExploredKind> WORKING =
      List.of(ExploredKind.BANK, ExploredKind.SWITCHED, ExploredKind.JIG);

  /** What {@code ./check} explores of them: some thousand to some ten thousand states each. */
  private static final Map<ExploredKind, Set<Deviation.Group>> CHECKED =
      Map.of(
          ExploredKind.BANK,
          Set.of(Deviation.Group.HELLO, Deviation.Group.RELAYS, Deviation.Group.PROGRAM),
          ExploredKind.SWITCHED,
          Set.of(Deviation.Group.SWITCH),
          ExploredKind.JIG,
          Set.of(Deviation.Group.MOTOR, Deviation.Group.FAR_SWITCH));

  /** States that a sound rig comes through, whatever feeds its coil. */
  private static final Set<Class<?>> OF_ANY_PULSE =
      Set.of(
          PulseState.AwaitToken.class,
          PulseState.Meet.class,
          PulseState.AwaitWindow.class,
          PulseState.Fire.class,
          PulseState.AwaitReport.class);

  private static final Set<Class<?>> OF_A_BANK =
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
          FillState.Fall.class);

  private static final Set<Class<?>> OF_A_FEED =
      Set.of(
          FeedState.SetProof.class,
          FeedState.Prove.class,
          FeedState.LetGo.class,
          FeedState.SetLevel.class,
          FeedState.FeedOn.class);

  @ParameterizedTest
  @MethodSource("checked")
  void breaksNoRuleInAnyStateOfTheWorkAndComesToWorkAgainFromEach(
      ExploredKind kind, Deviation.Group group) {
    explore(kind, group.deviations());
  }

  private static Stream<Arguments> checked() {
    return parts(true);
  }

  /** All but those that show only when the gate rises, deep in the states of a bank. */
  @ParameterizedTest
  @EnumSource(
      value = PlantedInterlock.class,
      mode = EnumSource.Mode.EXCLUDE,
      names = {"CHANGEOVER_NOT_ASKED", "CONTACTS_OF_THE_HEAD_NOT_ASKED"})
  void findsEveryMistakePlantedInTheInterlocks(PlantedInterlock mistake) {
    finds(mistake);
  }

  @Tag("exhaust")
  @ParameterizedTest
  @EnumSource(
      value = PlantedInterlock.class,
      names = {"CHANGEOVER_NOT_ASKED", "CONTACTS_OF_THE_HEAD_NOT_ASKED"})
  void findsEveryMistakePlantedDeep(PlantedInterlock mistake) {
    finds(mistake);
  }

  private static void finds(PlantedInterlock mistake) {
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
  @MethodSource("large")
  void breaksNoRuleNorStaysStuckInTheLargeGroups(ExploredKind kind, Deviation.Group group) {
    explore(kind, group.deviations());
  }

  private static Stream<Arguments> large() {
    return parts(false);
  }

  private static Stream<Arguments> parts(boolean checked) {
    return WORKING.stream()
        .flatMap(
            kind ->
                Deviation.Group.of(kind).stream()
                    .filter(
                        group -> CHECKED.getOrDefault(kind, Set.of()).contains(group) == checked)
                    .map(group -> Arguments.of(kind, group)));
  }

  @Tag("exhaust")
  @ParameterizedTest
  @MethodSource("any")
  void breaksNoRuleWhateverAnyJobAsksFor(ExploredKind kind, Deviation.Group group) {
    OutputLine works = kind.jig() ? OutputLine.JIG_ENABLE : OutputLine.COIL_FIRE;
    Set<Boolean> worked = new HashSet<>();
    Explorer.Found found =
        new Explorer<>(
                new ExploredRig(kind, SCAN_MS, HELD_MS, group.deviations(), ExploredJob.all(kind)))
            .explore(place -> worked.add(place.driven().isHigh(works)));

    System.out.printf(Locale.ROOT, "any job, %s, %s: %s%n", kind, group, found.words());
    assertThat(found.broken()).as(found.words()).isEmpty();
    assertThat(worked).as("whether %s was ever driven", works).contains(true);
  }

  private static Stream<Arguments> any() {
    return Stream.of(ExploredKind.values())
        .flatMap(kind -> Deviation.Group.of(kind).stream().map(group -> Arguments.of(kind, group)));
  }

  @Tag("exhaust")
  @ParameterizedTest
  @MethodSource("pairs")
  void breaksNoRuleWithOneOfEachOfTwoGroups(
      ExploredKind kind, Deviation.Group one, Deviation.Group other) {
    for (Deviation first : one.deviations()) {
      for (Deviation second : other.deviations()) {
        List<Deviation> both = first == second ? List.of(first) : List.of(first, second);
        Explorer.Found found =
            kind == ExploredKind.JIG
                ? new Explorer<>(new ExploredStroke(SCAN_MS, both)).explore()
                : new Explorer<>(new ExploredPulse(kind, SCAN_MS, both)).explore();
        System.out.printf(Locale.ROOT, "%s, %s: %s%n", kind, both, found.words());
        assertThat(found.broken()).as(found.words()).isEmpty();
      }
    }
  }

  private static Stream<Arguments> pairs() {
    List<Arguments> pairs = new ArrayList<>();
    for (ExploredKind kind : WORKING) {
      List<Deviation.Group> groups = Deviation.Group.of(kind);
      for (Deviation.Group one : groups) {
        groups.stream()
            .filter(other -> one.compareTo(other) < 0)
            .forEach(other -> pairs.add(Arguments.of(kind, one, other)));
      }
    }
    return pairs.stream();
  }

  private static Explorer.Found exploreWith(PlantedInterlock mistake) {
    ExploredKind kind = mistake.kind();
    return new Explorer<>(
            new ExploredRig(
                kind,
                SCAN_MS,
                HELD_MS,
                mistake.among(),
                ExploredJob.all(kind),
                mistake.in(ExploredRig.logic(kind, HELD_MS))))
        .explore();
  }

  private static void explore(ExploredKind kind, List<Deviation> deviations) {
    if (kind == ExploredKind.JIG) {
      Set<Object> stages = Set.of(JigMove.Stage.ENABLE, JigMove.Stage.GO, JigMove.Stage.DWELL);
      explore(new ExploredStroke(SCAN_MS, deviations), deviations, stages, ExplorationTest::stages);
      return;
    }
    Set<Object> states = new HashSet<>(OF_ANY_PULSE);
    states.addAll(kind.switched() ? OF_A_FEED : OF_A_BANK);
    explore(
        new ExploredPulse(kind, SCAN_MS, deviations),
        deviations,
        states,
        place -> place.act().stream().<Object>map(PulseState::getClass));
  }

  private static Stream<Object> stages(ExploredStroke.Place place) {
    return place.act().stream()
        .filter(StrokeState.Moving.class::isInstance)
        .map(act -> ((StrokeState.Moving) act).move().stage());
  }

  private static <S> void explore(
      ExploredMending.Mended<S> machine,
      List<Deviation> deviations,
      Set<Object> expected,
      Function<S, Stream<Object>> comesThrough) {
    ExploredMending<S> mending = new ExploredMending<>(machine, READY_SCANS);
    Set<Object> reached = new HashSet<>();
    Set<String> stuck = new TreeSet<>();
    Explorer.Found found =
        new Explorer<>(machine)
            .explore(
                place -> {
                  comesThrough.apply(place).forEach(reached::add);
                  mending.stuck(place).ifPresent(stuck::add);
                });

    System.out.printf(
        Locale.ROOT, "%s, %s: %s%n", machine.getClass().getSimpleName(), deviations, found.words());
    assertThat(found.broken()).as(found.words()).isEmpty();
    assertThat(stuck).as("what keeps a mended rig from working").isEmpty();
    assertThat(reached).as("states of the work").containsAll(expected);
  }
}
