package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.stream.Collectors;
import lodestep.bench.Batch;
import lodestep.cli.Program;
import lodestep.device.BankLeft;
import lodestep.device.Carried;
import lodestep.device.RigWear;
import lodestep.device.UsualCurrents;
import lodestep.dial.RigMemory;
import lodestep.ledger.EventCodec;
import lodestep.ledger.MemoryStore;
import lodestep.ledger.OpenWork;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.scan.ScanCycle;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualRig;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: Ctrl-C in the middle of a pulse on the virtual rig ends in order, with its outcome. */
class WatchTest {

  /**
   * A batch that a person ends.
   *
   * @param at as soon as this output is driven
   */
  private record Ended(VirtualBench bench, OutputLine at, AtomicBoolean stop)
      implements RunningBatch {
    @Override
    public void runScan() {
      bench.runScan();
      if (bench.scan().snapshot().driven().isHigh(at)) {
        stop.set(true);
      }
    }

    @Override
    public long nowNs() {
      return bench.nowNs();
    }

    @Override
    public ScanCycle scan() {
      return bench.scan();
    }

    @Override
    public boolean gaveUp() {
      return bench.gaveUp();
    }

    @Override
    public Optional<String> gone() {
      return Optional.empty();
    }

    @Override
    public void end(String why) {
      bench.end(why);
    }

    @Override
    public void close() {
      bench.close();
    }
  }

  private static final class Unheard implements Program.Watcher {
    @Override
    public void event(LedgerEvent event, double rigSeconds) {}

    @Override
    public void verdict(Batch batch, int done, double rigSeconds) {}

    @Override
    public void trip(String sentence) {}
  }

  /** Keeps what it is told when a person must look. */
  private static final class Asked implements Program.Watcher {
    final List<String> asked = new ArrayList<>();

    @Override
    public void event(LedgerEvent event, double rigSeconds) {}

    @Override
    public void verdict(Batch batch, int done, double rigSeconds) {}

    @Override
    public void trip(String sentence) {
      throw new AssertionError("no trip was meant: " + sentence);
    }

    @Override
    public void waits(String sentence) {
      asked.add(sentence);
    }
  }

  @Test
  void tellsOnceEachTimeWhyAPersonMustLook() {
    UsualCurrents usual = UsualCurrents.UNKNOWN;
    for (int i = 0; i < UsualCurrents.ENOUGH; i++) {
      usual = usual.with(new Carried("rod coil", true, 1.0));
    }
    RigMemory known = RigMemory.none().with(new RigWear(BankLeft.UNKNOWN, usual));
    FaultPlan shorted = FaultPlan.NONE.with(new Fault.TurnsShorted(0.7), VirtualRig.START_NS);
    Asked heard = new Asked();
    try (VirtualBench bench =
        new VirtualBench(
            new VirtualBench.Setup(HostOnBoard.RIG, 23, shorted, HostOnBoard.WALL),
            HostOnBoard.oneRod().with(known),
            HostOnBoard.prologue(),
            new VirtualLedger(23))) {
      new Watch(bench, new ArrayDeque<>(), heard).toTheEnd(new AtomicBoolean(), () -> 0.0);
    }

    assertThat(heard.asked).hasSize(2);
    assertThat(heard.asked.get(0)).startsWith("waits for you: the rod coil carried ");
    assertThat(heard.asked.get(1)).startsWith("waits for you: the rod coil still carries ");
  }

  @ParameterizedTest
  @CsvSource({"BANK_FILL, not fired", "COIL_FIRE, delivered", "LAMP_BUSY, "})
  void writesTheOutcomeOfThePulseUnderWayBeforeItEnds(OutputLine at, String outcome) {
    MemoryStore store = new MemoryStore();
    VirtualBench virtual =
        new VirtualBench(
            new VirtualBench.Setup(HostOnBoard.RIG, 23, FaultPlan.NONE, HostOnBoard.WALL),
            HostOnBoard.oneRod(),
            HostOnBoard.prologue(),
            new VirtualLedger(23, store));
    AtomicBoolean stop = new AtomicBoolean();
    Ended bench = new Ended(virtual, at, stop);

    Program.Outcome ended =
        new Watch(bench, new ArrayDeque<>(), new Unheard()).toTheEnd(stop, () -> 0.0);
    bench.end("stopped before the batch was over");

    assertThat(ended.stopped()).isTrue();
    List<LedgerEvent> events = new ArrayList<>();
    store.forEach(
        1, store.newest().number(), stored -> events.add(EventCodec.decode(stored).event()));
    assertThat(OpenWork.of(store).intents()).isEmpty();
    assertThat(OpenWork.of(store).magnets()).isEmpty();
    assertThat(
            events.stream()
                .filter(ActEvent.PulseEnded.class::isInstance)
                .map(event -> ((ActEvent.PulseEnded) event).outcome())
                .collect(Collectors.joining()))
        .isEqualTo(Optional.ofNullable(outcome).orElse(""));
    assertThat(events)
        .filteredOn(LedgerEvent.Tripped.class::isInstance)
        .extracting(event -> ((LedgerEvent.Tripped) event).code())
        .containsExactly((long) TripCause.STOP_ASKED.code());
  }
}
