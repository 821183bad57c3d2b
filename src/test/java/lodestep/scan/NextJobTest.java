package lodestep.scan;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.Outputs;
import lodestep.port.View;
import org.junit.jupiter.api.Test;

/** A job at rest is followed by the one that is handed over; any other is left alone. */
class NextJobTest {

  private record Follows(int number) implements Job {
    @Override
    public JobStep step(View view) {
      return JobStep.stay(this, Outputs.ALL_LOW, false);
    }
  }

  @Test
  void followsAJobAtRestInTheNextScan() {
    ScanBench bench = ScanBench.ready();
    bench.rests = true;

    assertThat(bench.cycle.begin(new Follows(1))).isTrue();
    assertThat(bench.cycle.begin(new Follows(2))).as("one waits already").isFalse();
    bench.run(1);

    assertThat(bench.cycle.snapshot().job()).isEqualTo(new Follows(1));
    assertThat(bench.cycle.begin(new Follows(3))).as("it does not rest").isFalse();
    bench.run(2);
    assertThat(bench.cycle.snapshot().job()).isEqualTo(new Follows(1));
  }

  /** Two people ask in the same scan: the second looked before the first one's job was there. */
  @Test
  void tellsWhoeverCameTooLateThatHisJobIsNotBegun() {
    Mailbox mailbox = new Mailbox();
    Job rests = resting(true);
    Job first = resting(false);
    Job second = resting(false);
    assertThat(mailbox.offer(first)).isTrue();
    assertThat(mailbox.follow(rests)).isSameAs(first);
    assertThat(mailbox.offer(second)).as("before the first one is published").isFalse();
    mailbox.makeRoom();

    assertThat(mailbox.offer(second)).as("looked before, came after").isTrue();
    assertThat(mailbox.takeBack(second)).isTrue();
    assertThat(mailbox.follow(rests)).isSameAs(rests);

    assertThat(mailbox.offer(second)).isTrue();
    assertThat(mailbox.follow(first)).as("does not rest").isSameAs(first);
    mailbox.makeRoom();
    assertThat(mailbox.takeBack(second)).as("was dropped").isTrue();
    assertThat(mailbox.takeBack(first)).as("was begun").isFalse();
  }

  private static Job resting(boolean rests) {
    return new Job() {
      @Override
      public JobStep step(View view) {
        return JobStep.stay(this, Outputs.ALL_LOW, false);
      }

      @Override
      public boolean rests() {
        return rests;
      }
    };
  }

  @Test
  void leavesAJobAloneThatWorksAgainBeforeTheScan() {
    ScanBench bench = ScanBench.ready();
    bench.rests = true;
    assertThat(bench.cycle.begin(new Follows(1))).isTrue();
    bench.rests = false;
    bench.run(1);

    assertThat(bench.cycle.snapshot().job()).isSameAs(bench.job);
    bench.rests = true;
    bench.run(1);
    assertThat(bench.cycle.snapshot().job())
        .as("what was not taken up is gone")
        .isSameAs(bench.job);
  }
}
