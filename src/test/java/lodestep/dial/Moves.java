package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

/** What a test expects of the planner. */
final class Moves {

  private Moves() {}

  static void assertFires(Move move, Purpose purpose, double aperM, boolean north) {
    assertThat(move).isInstanceOf(Move.Fire.class);
    Move.Fire fire = (Move.Fire) move;
    assertThat(fire.purpose()).isEqualTo(purpose);
    assertThat(fire.field().amperesPerMetre()).isCloseTo(aperM, within(0.5));
    assertThat(fire.drivesNorth()).isEqualTo(north);
  }

  static void assertEnds(Move move, Verdict verdict, String... why) {
    assertThat(move).isInstanceOf(Move.Finish.class);
    assertThat(((Move.Finish) move).verdict()).as("%s", move).isEqualTo(verdict);
    assertThat(((Move.Finish) move).why()).contains(why);
  }
}
