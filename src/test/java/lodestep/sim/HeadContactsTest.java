package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import org.junit.jupiter.api.Test;

/** What the head's lines say of contacts and of the chain. */
class HeadContactsTest {

  @Test
  void copiesTheContacts() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.run(50);
    assertThat(host.has(HeadFlag.LID_A)).isFalse();
    assertThat(host.has(HeadFlag.CHAIN)).isFalse();
    assertThat(host.has(HeadFlag.STOP_LOOP)).isTrue();
    assertThat(host.has(HeadFlag.FILL_CONTACT)).isTrue();
    assertThat(host.has(HeadFlag.BLEED_CONTACT)).isTrue();
    assertThat(host.has(HeadFlag.REVERSE_CONTACT)).isFalse();
    assertThat(host.has(HeadFlag.FULL_CONTACT)).isFalse();

    host.rig.controls().lid(true);
    host.raise(OutputLine.COIL_REVERSE);
    host.raise(OutputLine.COIL_FULL);
    host.run(50);

    assertThat(host.has(HeadFlag.LID_A)).isTrue();
    assertThat(host.has(HeadFlag.LID_B)).isTrue();
    assertThat(host.has(HeadFlag.CHAIN)).isTrue();
    assertThat(host.has(HeadFlag.REVERSE_CONTACT)).isTrue();
    assertThat(host.has(HeadFlag.FULL_CONTACT)).isTrue();
  }

  /** The host reads a line each 10 ms; what opened between two of them must not be lost. */
  @Test
  void saysThatTheChainHasOpenedHoweverShortly() {
    TestHost host = new TestHost(FaultPlan.NONE);
    host.rig.controls().lid(true);
    host.run(50);
    int before = host.all(HeadFrame.Status.class).size();
    // Somewhere in these it is far from a line.
    for (int i = 0; i < 5; i++) {
      host.run(13);
      host.rig.controls().lid(false);
      host.run(1);
      host.rig.controls().lid(true);
    }
    host.run(30);

    List<HeadFrame.Status> lines = host.all(HeadFrame.Status.class);
    assertThat(lines.subList(before, lines.size()))
        .filteredOn(line -> !line.has(HeadFlag.CHAIN))
        .hasSize(5);
  }

  @Test
  void readsABrokenWireAsOpenWhileTheHostReadsItClosed() {
    FaultPlan plan = FaultPlan.NONE.with(new Fault.HeadWireBroken(InputLine.LID_B), 0L);
    TestHost host = new TestHost(plan);
    host.rig.controls().lid(true);
    host.run(50);

    assertThat(host.has(HeadFlag.LID_B)).isFalse();
    assertThat(host.closed(InputLine.LID_B)).isTrue();
  }
}
