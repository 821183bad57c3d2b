package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import org.junit.jupiter.api.Test;

/** The head's own clock through a hang, and how soon the permit goes when the host is gone. */
class HeadTimingTest {

  /** Its clock has to run on, or all its later lines would look late to the host. */
  @Test
  void latchesAfterAHangTooShortForItsWatchdogAndKeepsItsClock() {
    FaultPlan plan =
        FaultPlan.NONE.with(new Fault.HeadHung(), TestHost.atMs(1000), TestHost.atMs(1200));
    TestHost host = new TestHost(plan).permitted();
    HeadFrame.Status before = host.status();
    long beforeNs = host.rig.clock().nowNs();

    host.run(1200);

    HeadFrame.Status after = host.status();
    long passedMs = (host.rig.clock().nowNs() - beforeNs) / 1_000_000L;
    assertThat(after.bootId()).isEqualTo(before.bootId());
    assertThat(after.clockMs() - before.clockMs()).isBetween(passedMs - 10, passedMs + 10);
    assertThat(host.has(HeadFlag.LATCHED)).isTrue();
  }

  /** Wire, the head's limit, one loop and the relay's fall, at each phase of scan and loop. */
  @Test
  void opensThePermitsContactWithin250MillisecondsOfTheLastHeartbeat() {
    for (long seed = 0; seed < 40; seed++) {
      TestHost host = new TestHost(seed, FaultPlan.NONE).permitted();
      host.run(1 + (int) seed % 10);
      host.heartbeats = false;

      // The last one was sent up to a scan of 5 ms ago.
      host.await(() -> !host.rig.plant().permitClosed(), 250 - 5);
    }
  }
}
