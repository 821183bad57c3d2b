package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

/** When the head holds its permit, and each way it loses it: one condition taken away at a time. */
class HeadPermitTest {

  private final HeadPermit permit = new HeadPermit();
  private long clockMs;
  private int sequence;
  private boolean contacts = true;
  private boolean measured = true;

  private void run(int ms, boolean beats, boolean asks) {
    for (int i = 0; i < ms; i++) {
      clockMs++;
      if (beats && clockMs % 5 == 0) {
        permit.heartbeat(clockMs, 1, ++sequence, asks);
      }
      permit.step(clockMs, contacts, measured);
    }
  }

  private void holdIt() {
    run(100, true, false);
    run(20, true, true);
    assertThat(permit.held()).isTrue();
  }

  @Test
  void holdsWhenAskedFreshAndAllIsGood() {
    holdIt();

    run(10_000, true, true);

    assertThat(permit.held()).isTrue();
    assertThat(permit.latched()).isFalse();
  }

  @Test
  void doesNotHoldUnasked() {
    run(1000, true, false);

    assertThat(permit.held()).isFalse();
    assertThat(permit.latched()).isFalse();
  }

  @Test
  void letsGoUnlatchedWhenNoLongerAsked() {
    holdIt();

    run(20, true, false);

    assertThat(permit.held()).isFalse();
    assertThat(permit.latched()).isFalse();
  }

  @Test
  void letsGoAndLatchesWhenHeartbeatsStayAwayPast230Milliseconds() {
    holdIt();
    long lastBeatMs = clockMs - clockMs % 5;

    run((int) (lastBeatMs + 230 - clockMs), false, true);
    assertThat(permit.held()).isTrue();
    run(1, false, true);

    assertThat(permit.held()).isFalse();
    assertThat(permit.latched()).isTrue();
  }

  @Test
  void letsGoAtOnceWhenAContactOpens() {
    holdIt();

    contacts = false;
    run(1, true, true);

    assertThat(permit.held()).isFalse();
    assertThat(permit.latched()).isTrue();
  }

  @Test
  void letsGoAtOnceWhenWhatItMeasuresTurnsBad() {
    holdIt();

    measured = false;
    run(1, true, true);

    assertThat(permit.held()).isFalse();
    assertThat(permit.latched()).isTrue();
  }

  @Test
  void letsGoWhenItsOwnStepComesLateAndForgivesALittle() {
    holdIt();
    clockMs += 19;
    run(1, true, true);
    assertThat(permit.held()).isTrue();

    clockMs += 20;
    run(1, true, true);

    assertThat(permit.held()).isFalse();
    assertThat(permit.latched()).isTrue();
  }

  @Test
  void waitsUntilContactsHaveBeenClosedFor50Milliseconds() {
    contacts = false;
    run(100, true, false);
    contacts = true;

    run(49, true, true);
    assertThat(permit.held()).isFalse();
    run(5, true, true);

    assertThat(permit.held()).isTrue();
  }

  @Test
  void doesNotLatchOnAnOpenLidWhileNoPermitIsHeld() {
    run(100, true, false);
    contacts = false;
    run(100, true, false);

    assertThat(permit.latched()).isFalse();
  }

  @Test
  void staysLatchedWhileStillAsked() {
    holdIt();
    contacts = false;
    run(10, true, true);
    contacts = true;

    run(5000, true, true);

    assertThat(permit.latched()).isTrue();
    assertThat(permit.held()).isFalse();
  }

  @Test
  void staysLatchedWhileNotAskedAgain() {
    holdIt();
    permit.latch();

    run(5000, true, false);

    assertThat(permit.latched()).isTrue();
  }

  @Test
  void clearsTheLatchByAskingAnewAfterNotAsking() {
    holdIt();
    contacts = false;
    run(10, true, true);
    contacts = true;
    run(100, true, false);

    run(10, true, true);

    assertThat(permit.latched()).isFalse();
    assertThat(permit.held()).isTrue();
  }

  @Test
  void spendsAnEdgeGivenBeforeTheCauseIsGone() {
    holdIt();
    contacts = false;
    run(10, true, false);
    run(10, true, true);
    contacts = true;

    run(1000, true, true);
    assertThat(permit.latched()).isTrue();
    run(10, true, false);
    run(10, true, true);

    assertThat(permit.latched()).isFalse();
  }

  @Test
  void latchesWhenTheFirstHeartbeatAfterAStartAlreadyAsks() {
    run(1000, true, true);

    assertThat(permit.latched()).isTrue();
    assertThat(permit.held()).isFalse();
  }
}
