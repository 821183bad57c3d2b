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
