package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Travel, bounce, sticking and welding of one relay. Times are common practice, no source. */
class RelayTest {

  private final FaultState faults = new FaultState(FaultPlan.NONE);
  private final Relay relay = new Relay(RelayName.FILL.bit(), new SplittableRandom(5));

  private void run(boolean fed, int ms) {
    for (int i = 0; i < ms; i++) {
      relay.step(fed, faults);
    }
  }

  @Test
  void restsReleased() {
    assertThat(relay.makeClosed()).isFalse();
    assertThat(relay.breakClosed()).isTrue();
  }

  @Test
  void opensOneContactBeforeTheOtherCloses() {
    boolean between = false;

    for (int ms = 0; ms < 12; ms++) {
      run(true, 1);
      assertThat(relay.makeClosed() && relay.breakClosed()).as("both closed at %s", ms).isFalse();
      between |= !relay.makeClosed() && !relay.breakClosed();
    }

    assertThat(between).isTrue();
    assertThat(relay.makeClosed()).isTrue();
  }

  @Test
  void operatesInSevenToElevenMilliseconds() {
    run(true, 6);
    assertThat(relay.makeClosed()).isFalse();

    run(true, 5);

    assertThat(relay.makeClosed()).isTrue();
  }

  @Test
  void releasesInFourToEightMilliseconds() {
    run(true, 12);

    run(false, 3);
    assertThat(relay.breakClosed()).isFalse();
    run(false, 5);

    assertThat(relay.breakClosed()).isTrue();
    assertThat(relay.makeClosed()).isFalse();
  }

  @Test
  void bouncesInSomeTravels() {
    int bounces = 0;

    for (int travel = 0; travel < 50; travel++) {
      boolean before = false;
      for (int ms = 0; ms < 12; ms++) {
        run(true, 1);
        bounces += before && !relay.makeClosed() ? 1 : 0;
        before = relay.makeClosed();
      }
      assertThat(relay.makeClosed()).isTrue();
      run(false, 12);
    }

    assertThat(bounces).isBetween(10, 40);
  }

  @Test
  void followsAnOrderTakenBackInMidTravel() {
    run(true, 6);

    run(false, 12);

    assertThat(relay.makeClosed()).isFalse();
    assertThat(relay.breakClosed()).isTrue();
  }

  @Test
  void staysClosedAndShowsItAtTheMirrorWhenWelded() {
    run(true, 12);
    faults.relaysWelded = RelayName.FILL.bit();

    run(false, 50);

    assertThat(relay.makeClosed()).isTrue();
    assertThat(relay.breakClosed()).isFalse();
  }

  @Test
  void doesNotCloseByItselfWhenItsContactCouldWeld() {
    faults.relaysWelded = RelayName.FILL.bit();

    run(false, 50);

    assertThat(relay.makeClosed()).isFalse();
  }

  @Test
  void doesNotMoveWhenStuckReleased() {
    faults.relaysStuckReleased = RelayName.FILL.bit();

    run(true, 50);

    assertThat(relay.makeClosed()).isFalse();
    assertThat(relay.breakClosed()).isTrue();
  }

  @Test
  void pullsInUnfedWhenStuckPulledIn() {
    faults.relaysStuckPulled = RelayName.FILL.bit();

    run(false, 50);

    assertThat(relay.makeClosed()).isTrue();
  }

  @Test
  void isNotMovedByAnotherRelaysFault() {
    faults.relaysStuckPulled = RelayName.HOLD.bit();

    run(false, 50);

    assertThat(relay.makeClosed()).isFalse();
  }
}
