package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Goal: no law is broken by the whole host on a rig that breaks, is mishandled, killed and cut off.
 * Method: a slice of the seeds of "lodestep soak", always the same ones; a longer one is that
 * command's.
 */
class SoakRunTest {

  /** So many seeds of each kind of rig; their number is bounded and never the time. */
  private static long slice(SoakRig rig) {
    return switch (rig) {
      case COIL -> 240;
      case SWITCHED -> 60;
      case JIG, COIL_AND_JIG -> 36;
    };
  }

  @ParameterizedTest
  @EnumSource(SoakRig.class)
  void breaksNoRuleInTheSlice(SoakRig rig) {
    Tally tally = new Tally();
    for (long seed = 1; seed <= slice(rig); seed++) {
      tally.add(SeedWork.of(Soaks.of(rig), seed, Soaks.plan(rig)));
    }

    assertThat(tally.failed()).extracting(SavedRun::written).isEmpty();
    assertThat(tally.problems()).isEmpty();
    assertThat(tally.seeds()).isEqualTo(slice(rig));
    Tally.Sums sums = tally.all();
    boolean coil = rig.has(Part.COIL);
    boolean jig = rig.has(Part.JIG);
    assertThat(sums.pulses()).as("pulses fired").isGreaterThan(coil ? jig ? 50 : 1_000 : -1);
    assertThat(sums.strokes()).as("strokes made").isGreaterThan(jig ? 300 : -1);
    assertThat(sums.accepted()).as("magnets accepted").isGreaterThan(40);
    assertThat(tally.trips().size()).as("causes that tripped").isGreaterThan(12);
    // Not every one in so short a slice of the other rigs; ScriptDrawTest sees each drawn.
    long kinds = rig.kinds().stream().filter(kind -> everMet(tally, kind)).count();
    assertThat(kinds)
        .as("kinds that happened")
        .isGreaterThanOrEqualTo(rig.kinds().size() * (rig == SoakRig.COIL ? 5 : 4) / 5);
    assertThat(sums.permitGoneMs()).as("permit gone after a death").isLessThanOrEqualTo(250);
  }

  private static boolean everMet(Tally tally, HappeningKind kind) {
    return Arrays.stream(RigState.values()).anyMatch(state -> tally.met(kind, state) > 0);
  }

  @ParameterizedTest
  @CsvSource({
    "COIL, 7",
    "COIL, 8",
    "COIL, 51",
    "COIL, 1000003",
    "SWITCHED, 5",
    "JIG, 6",
    "COIL_AND_JIG, 7"
  })
  void comesToTheSameBytesTwice(SoakRig rig, long seed) {
    RunResult once = SoakRun.of(Soaks.of(rig), seed);
    RunResult again = SoakRun.of(Soaks.of(rig), seed);

    assertThat(again).isEqualTo(once);
    assertThat(SoakRun.of(Soaks.of(rig), seed + 1).end()).isNotEqualTo(once.end());
  }

  @ParameterizedTest
  @EnumSource(SoakRig.class)
  void findsEveryCanary(SoakRig rig) {
    for (int index = 0; index < SeedWork.CANARIES.size(); index++) {
      SeedReport report = SeedWork.of(Soaks.of(rig), 100L * index, Soaks.plan(rig));

      assertThat(report.problem()).isEmpty();
      assertThat(report.canary()).contains(SeedWork.CANARIES.get(index));
    }
  }

  /** The disk holds one row more there than it has acknowledged when the program is killed. */
  @ParameterizedTest
  @EnumSource(SoakRig.class)
  void findsALostRowThatIsNotTheNewest(SoakRig rig) {
    SeedReport report = SeedWork.of(Soaks.of(rig), 80_000, Soaks.plan(rig));

    assertThat(report.canary()).contains(Planted.LOST_ROW);
  }

  /** INV-08 excuses the permit relay itself; the figure for people must not count it either. */
  @Test
  void tellsHowLongThePermitOutlivesTheProgramOfAWholeRelayAlone() {
    SoakSettings settings = Soaks.of(SoakRig.SWITCHED);
    Happening kill = new Happening(HappeningKind.HOST_KILLED, 25_000, 1_000, "levels stay", 0);
    Happening stuck = new Happening(HappeningKind.RELAY_PULLED, 24_950, 600, "permit", 0);
    Script whole = new Script(45_000, List.of(kill));
    Script relayStuck = whole.with(List.of(stuck, kill));

    long sound = SoakRun.of(settings, 80_000, whole, Planted.NOTHING).permitGoneMs();
    RunResult broken = SoakRun.of(settings, 80_000, relayStuck, Planted.NOTHING);

    assertThat(sound).isBetween(200L, 250L);
    assertThat(broken.permitGoneMs()).isZero();
    assertThat(broken.violation()).isEmpty();
  }

  /** Asked to end with the bank filled, and all mended before it has ended. */
  @Test
  void resetsOnlyOnceAProgramThatWasAskedToEndHasEnded() {
    World quiet = new World(Soaks.SETTINGS, 3, new Script(40_000, List.of()), Planted.NOTHING);
    quiet.playQuiet();
    List<World.StateChange> fills =
        quiet.changes().stream().filter(change -> change.state() == RigState.FALL).toList();

    assertThat(fills).isNotEmpty();
    for (World.StateChange filled : fills) {
      Happening end = new Happening(HappeningKind.HOST_ENDED, filled.atMs(), 12_600, "", 0);
      Script script = new Script(filled.atMs() + 16, List.of(end));
      RunResult run = SoakRun.of(Soaks.SETTINGS, 3, script, Planted.NOTHING);
      assertThat(run.violation()).as("asked at %d ms", filled.atMs()).isEmpty();
    }
  }

  /** A relay that is let go by the mending moves by itself, as one does whose fault ends. */
  @Test
  void tellsTheRulesOfWhatTheMendingMoves() {
    Happening pulled = new Happening(HappeningKind.RELAY_PULLED, 1_000, 9_000, "reverse", 0);
    Witness witness = new Witness(RigFigures.ofBank(350));
    Agenda agenda = new Agenda(new Script(2_000, List.of(pulled)));
    witness.ms = 1_000;
    witness.edge(agenda.take().what());
    witness.ms = 2_000;
    agenda.stand(witness);
    assertThat(witness.relayJolted("reverse", "coil reverse", 30)).isFalse();

    agenda.heal(witness);

    assertThat(witness.relayJolted("reverse", "coil reverse", 30)).isTrue();
    witness.ms = 2_040;
    agenda.stand(witness);
    assertThat(witness.relayBroken("reverse", "coil reverse", 30)).isFalse();
  }

  @Test
  void callsATripOfASoundRigANuisance() {
    Happening lid = new Happening(HappeningKind.STOP_ASKED, 9_000, 100, "", 0);
    Script notQuiet = new Script(12_000, List.of(lid));

    RunResult run = new World(Soaks.SETTINGS, 3, notQuiet, Planted.NOTHING).playQuiet();

    assertThat(run.violation()).map(Violation::rule).contains("NUI");
  }

  /** Neither a trip nor an end: a person looks and says "go on", also to a program begun anew. */
  @Test
  void letsAPersonSeeToShortedTurnsAndTheBatchGoOn() {
    Happening shorted = new Happening(HappeningKind.TURNS_SHORTED, 20, 59_000, "", 0.5);
    Happening kill = new Happening(HappeningKind.HOST_KILLED, 30_000, 1_000, "levels stay", 0);
    for (long seed = 1; seed <= 2; seed++) {
      World world =
          new World(
              Soaks.SETTINGS, seed, new Script(60_000, List.of(shorted, kill)), Planted.NOTHING);
      RunResult run = world.play();

      assertThat(run.violation()).as("seed %d", seed).isEmpty();
      assertThat(run.accepted()).as("seed %d", seed).isPositive();
      assertThat(world.changes())
          .as("seed %d", seed)
          .filteredOn(change -> change.state() == RigState.ATTENTION)
          .hasSizeGreaterThanOrEqualTo(2);
    }
  }
}
