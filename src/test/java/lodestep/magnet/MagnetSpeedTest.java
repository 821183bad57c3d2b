package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.OptionsBuilder;

/** Measures, and prints; no speed is asserted, since it is the machine's. */
@Tag("bench")
class MagnetSpeedTest {

  @Test
  void everyBenchmarkIsMeasured() throws RunnerException {
    var options =
        new OptionsBuilder()
            .include(MagnetBenchmark.class.getName())
            .shouldFailOnError(true)
            .build();

    assertThat(new Runner(options).run()).hasSize(7);
  }
}
