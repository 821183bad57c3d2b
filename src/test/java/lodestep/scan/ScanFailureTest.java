package lodestep.scan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import org.junit.jupiter.api.Test;

/** Whatever is thrown, and wherever: outputs low, nothing swallowed, nothing raised again. */
class ScanFailureTest {

  @Test
  void tripsAndLowersInTheSameScanWhenTheJobThrows() {
    ScanBench bench = ScanBench.holding();
    IllegalStateException broken = new IllegalStateException("a rule was broken");
    bench.script =
        view -> {
          throw broken;
        };
    bench.run(1);

    Snapshot snapshot = bench.cycle.snapshot();
    assertThat(bench.atPins).isEqualTo(Outputs.high(OutputLine.COIL_REVERSE));
    assertThat(snapshot.failure()).containsSame(broken);
    assertThat(snapshot.trip().orElseThrow().cause()).isEqualTo(TripCause.PROGRAM_ERROR);
    assertThat(bench.events)
        .containsExactly(
            new LedgerEvent.Tripped(62, TripCause.PROGRAM_ERROR.what(), broken.toString(), 0));
    assertThat(bench.log).containsOnlyOnce("stop");
    assertThat(bench.heartbeats()).singleElement().matches(heartbeat -> !heartbeat.permit());
  }

  @Test
  void lowersTheCoilsRelaysTooOnceTheBankIsLowAfterTheJobThrew() {
    ScanBench bench = ScanBench.holding();
    bench.script =
        view -> {
          throw new IllegalStateException("a rule was broken");
        };
    bench.run(5);
    Outputs filled = bench.atPins;
    bench.bankMilliVolts = 9_000;
    bench.run(2);

    assertThat(filled).isEqualTo(Outputs.high(OutputLine.COIL_REVERSE));
    assertThat(bench.atPins).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void stepsAFailedJobNoMore() {
    ScanBench bench = ScanBench.ready();
    bench.script =
        view -> {
          throw new IllegalStateException("a rule was broken");
        };
    bench.run(1);
    bench.forget();
    bench.script = view -> bench.want(OutputLine.BUZZER);
    bench.run(1_000);

    assertThat(bench.views).isEmpty();
    assertThat(bench.events).isEmpty();
    assertThat(bench.atPins).isEqualTo(Outputs.ALL_LOW);
    assertThat(bench.cycle.snapshot().failure()).isPresent();
  }

  @Test
  void lowersEverythingAndThrowsOnWhenAPortThrows() {
    ScanBench bench = ScanBench.holding();
    IllegalStateException broken = new IllegalStateException("no contacts");
    bench.onRead =
        () -> {
          throw broken;
        };

    assertThatThrownBy(() -> bench.run(1)).isSameAs(broken);
    assertThat(bench.atPins).isEqualTo(Outputs.ALL_LOW);
    assertThat(bench.log).containsExactly("read", "drive []", "stop");
    assertThat(bench.cycle.snapshot().failure()).containsSame(broken);
    assertThat(bench.cycle.snapshot().driven()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void lowersEverythingAndThrowsOnWhenTheMachineFailsInTheJob() {
    ScanBench bench = ScanBench.holding();
    bench.script =
        view -> {
          throw new StackOverflowError("planted");
        };

    assertThatThrownBy(() -> bench.run(1)).isInstanceOf(StackOverflowError.class);
    assertThat(bench.atPins).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void runsNoMoreAfterAFailure() {
    ScanBench bench = ScanBench.holding();
    bench.onRead =
        () -> {
          throw new IllegalStateException("no contacts");
        };
    assertThatThrownBy(() -> bench.run(1)).hasMessage("no contacts");
    bench.onRead = () -> {};
    bench.forget();

    assertThatThrownBy(() -> bench.run(1)).isInstanceOf(IllegalStateException.class);
    assertThat(bench.log).isEmpty();
  }

  @Test
  void stopsTheHeadEvenWhenTheOutputsCannotBeLoweredAndHidesNeitherError() {
    ScanBench bench = ScanBench.holding();
    bench.onDrive =
        () -> {
          throw new IllegalStateException("no outputs");
        };
    bench.onRead =
        () -> {
          throw new IllegalStateException("no contacts");
        };

    assertThatThrownBy(() -> bench.run(1))
        .hasMessage("no contacts")
        .satisfies(thrown -> assertThat(thrown.getSuppressed()[0]).hasMessage("no outputs"));
    assertThat(bench.log).endsWith("stop");
  }

  @Test
  void refusesTimeThatRunsBackwards() {
    ScanBench bench = ScanBench.holding();

    assertThatThrownBy(() -> bench.runAfter(-1)).hasMessageContaining("backwards by 1 ns");
    assertThat(bench.atPins).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void leavesEverythingLowWhenClosed() {
    ScanBench bench = ScanBench.holding();
    bench.cycle.close();
    bench.cycle.close();

    assertThat(bench.atPins).isEqualTo(Outputs.ALL_LOW);
    assertThat(bench.log).containsExactly("drive []", "stop");
    assertThatThrownBy(() -> bench.run(1)).hasMessageContaining("closed");
  }
}
