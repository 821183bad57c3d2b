package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import org.junit.jupiter.api.Test;

/** The cable: what it delays, what is lost when it is pulled, and what closing it means. */
class VirtualHeadLinkTest {

  @Test
  void deliversEachFrameOnceInOrder() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.run(1000);

    long last = Long.MIN_VALUE;
    for (ReceivedFrame frame : host.frames) {
      assertThat(frame.receivedAtNs()).isGreaterThanOrEqualTo(last);
      last = frame.receivedAtNs();
    }
    assertThat(host.rig.headLink().take()).isEmpty();
  }

  @Test
  void takesTheTimeOfItsBytes() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.run(1000);

    // The head's clock started with the rig's, so the difference is the time on the wire.
    ReceivedFrame newest = host.frames.get(host.frames.size() - 1);
    long sentAtMs = ((HeadFrame.Status) newest.frame()).clockMs();
    assertThat(newest.receivedAtNs()).isEqualTo(TestHost.atMs(sentAtMs + 8));
  }

  @Test
  void losesWhatIsUnderWayWhenTheCableIsPulled() {
    FaultPlan plan =
        FaultPlan.NONE.with(new Fault.CablePulled(), TestHost.atMs(1000), TestHost.atMs(2000));
    TestHost host = new TestHost(plan);
    host.run(1000);
    assertThat(host.rig.headLink().state(0L).open()).isFalse();
    assertThat(host.rig.headLink().state(0L).words()).contains("plug it in");
    host.frames.clear();

    host.run(950);
    assertThat(host.frames).isEmpty();
    host.run(100);

    assertThat(host.rig.headLink().state(0L).open()).isTrue();
    assertThat(host.frames).isNotEmpty();
  }

  @Test
  void letsTheHeadDropThePermitWhenTheCableIsPulled() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.CablePulled(), TestHost.atMs(1000));
    TestHost host = new TestHost(plan).permitted();

    host.run(1300);

    assertThat(host.rig.plant().permitClosed()).isFalse();
  }

  @Test
  void dropsRequestsMadeOnALostLine() {
    FaultPlan plan =
        FaultPlan.NONE.with(new Fault.CablePulled(), TestHost.atMs(1000), TestHost.atMs(1500));
    TestHost host = new TestHost(plan);
    host.run(1200);

    host.send(new HeadRequest.AskHello());
    host.run(1000);

    assertThat(host.all(HeadFrame.Hello.class)).hasSize(1);
  }

  @Test
  void countsDamagedLines() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.LinesDamaged(0.5), 0L);
    TestHost host = new TestHost(plan);

    host.run(10_000);

    long bad = host.rig.headLink().state(0L).badLines();
    assertThat(bad).isBetween(400L, 600L);
    assertThat(bad + host.frames.size()).isBetween(998L, 1002L);
  }

  @Test
  void sendsTheStopPastWhatIsQueued() {
    TestHost host = new TestHost(FaultPlan.NONE).permitted();
    host.rig.headLink().offer(new HeadRequest.AskHello());

    host.rig.headLink().stop();
    host.run(60);

    assertThat(host.has(HeadFlag.LATCHED)).isTrue();
    assertThat(host.all(HeadFrame.Hello.class)).hasSize(1);
  }

  @Test
  void holdsNoMoreRequestsThanItsLimit() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.run(50);
    host.heartbeats = false;
    host.run(10);
    for (int i = 0; i < 3 * VirtualHeadLink.REQUESTS_MAX; i++) {
      host.rig.headLink().offer(new HeadRequest.AskHello());
    }
    host.run(100);

    assertThat(host.all(HeadFrame.Hello.class)).hasSize(1 + VirtualHeadLink.REQUESTS_MAX);
  }

  @Test
  void saysNothingAfterItIsClosed() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.run(100);
    host.frames.clear();

    host.rig.headLink().close();
    host.run(300);

    assertThat(host.frames).isEmpty();
    assertThat(host.rig.headLink().state(0L).open()).isFalse();
  }
}
