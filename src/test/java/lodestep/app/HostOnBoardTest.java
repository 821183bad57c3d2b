package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Consumer;
import java.util.function.Supplier;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.Entry;
import lodestep.cli.Program;
import lodestep.dial.Verdict;
import lodestep.ledger.EventCodec;
import lodestep.port.Bytes;
import lodestep.port.LedgerEvent;
import lodestep.port.LinesException;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.StoredEvent;
import lodestep.port.TripCause;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;
import org.junit.jupiter.api.Test;

/**
 * Goal: the host that runs on a real rig dials a magnet over a board's lines, and lets go of
 * everything however it ends. Method: its own loop and lines, the library's pretended pins, the
 * virtual plant behind them; stepped in virtual time.
 */
class HostOnBoardTest {

  private static final long SEED = 23;
  private static final long MS = 1_000_000L;
  private static final long LIMIT_NS = 600_000 * MS;

  private static HostOnBoard host() {
    return HostOnBoard.inside(HostOnBoard.oneRod(), SEED);
  }

  /** Ends a run that would never end, so that the test fails and does not hang. */
  private static void giveUpInTime(HostOnBoard host, long nowNs) {
    if (nowNs > LIMIT_NS) {
      host.bench.askStop();
    }
  }

  @Test
  void dialsAMagnetOverTheBoardsLines() {
    HostOnBoard host = host();
    host.eachScan(nowNs -> giveUpInTime(host, nowNs)).bench.run();

    Batch batch = ((BatchJob) host.bench.snapshot().job()).batch();
    assertThat(host.bench.failure()).isEmpty();
    assertThat(batch.entries()).allMatch(Entry::done);
    assertThat(batch.count(Verdict.ACCEPTED)).isEqualTo(1);
    assertThat(host.board.standing()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void recordsTheSameBytesAsOverTheVirtualRigsOwnLines() {
    HostOnBoard host = host();
    host.eachScan(nowNs -> giveUpInTime(host, nowNs)).bench.run();

    assertThat(host.ledger.canonicalBytes()).isEqualTo(bytesOfTheVirtualBench());
  }

  private static Bytes bytesOfTheVirtualBench() {
    VirtualLedger ledger = new VirtualLedger(SEED, HostOnBoard.newLedger(HostOnBoard.RIG));
    VirtualBench bench =
        new VirtualBench(
            new VirtualBench.Setup(HostOnBoard.RIG, SEED, FaultPlan.NONE, HostOnBoard.WALL),
            HostOnBoard.oneRod(),
            HostOnBoard.prologue(),
            ledger);
    while (!bench.done() && bench.rig().clock().nowNs() < LIMIT_NS) {
      bench.runScan();
    }
    bench.end("the batch is over");
    return ledger.canonicalBytes();
  }

  @Test
  void bleedsTheBankAndClosesTheRecordWhenAskedToStopWhileTheBankIsHeld() {
    HostOnBoard host = host();
    AtomicLong askedAtNs = new AtomicLong();
    host.eachScan(
            nowNs -> {
              giveUpInTime(host, nowNs);
              if (host.rig().plant().bankVoltage().volts() > 15 && askedAtNs.get() == 0) {
                askedAtNs.set(nowNs);
                host.bench.askStop();
              }
            })
        .bench
        .run();

    assertThat(askedAtNs.get()).isPositive();
    assertThat(host.board.standing()).isEqualTo(Outputs.ALL_LOW);
    assertThat(host.bench.failure()).isEmpty();
    assertThat(host.rig().plant().bankVoltage().volts()).isLessThanOrEqualTo(10.0);
    assertThat(host.nowNs() - askedAtNs.get()).isLessThanOrEqualTo(LoopRunner.LET_GO_WAIT_NS);
    assertThat(host.ledger.state().fault()).isEmpty();
    assertThat(lastOf(host, LedgerEvent.Tripped.class))
        .hasValueSatisfying(trip -> assertThat(trip.code()).isEqualTo(TripCause.STOP_ASKED.code()));
  }

  @Test
  void lowersAllOtherLinesAndEndsWithItsNameWhenALineFailsWhileTheBankIsHeld() {
    HostOnBoard host = host();
    host.eachScan(
            nowNs -> {
              giveUpInTime(host, nowNs);
              breakWhileHeld(host, () -> new IOException("line gone"));
            })
        .bench
        .run();

    Optional<Throwable> failure = host.bench.failure();
    assertThat(failure).containsInstanceOf(LinesException.class);
    assertThat(failure.orElseThrow()).hasMessageContaining("'lamp_busy'");
    assertThat(host.board.standing()).isEqualTo(Outputs.high(OutputLine.LAMP_BUSY));
    host.runPlant(host.nowNs() + 5_000 * MS);
    assertThat(host.rig().plant().bankVoltage().volts()).isLessThanOrEqualTo(10.0);
  }

  @Test
  void tellsAWatcherOfTheVerdictAndGivesTheOutcome() {
    HostOnBoard host = host();
    host.eachScan(nowNs -> giveUpInTime(host, nowNs));
    Told told = new Told();

    Program.Outcome outcome = host.bench.toTheEnd(told);

    assertThat(outcome.batch().count(Verdict.ACCEPTED)).isEqualTo(1);
    assertThat(outcome.tripped()).isFalse();
    assertThat(outcome.stopped()).isFalse();
    assertThat(told.verdicts).containsExactly(1);
    assertThat(told.trips).isEmpty();
  }

  @Test
  void tellsAWatcherOfALineThatFailsAsOfATrip() {
    HostOnBoard host = host();
    host.eachScan(nowNs -> breakWhileHeld(host, () -> new IOException("line gone")));
    Told told = new Told();

    Program.Outcome outcome = host.bench.toTheEnd(told);

    assertThat(outcome.tripped()).isTrue();
    assertThat(told.trips).singleElement().asString().contains("'lamp_busy'");
  }

  @Test
  void failsLoudlyAndLowOnAnErrorOfTheProgram() {
    HostOnBoard host = host();
    StackOverflowError error = new StackOverflowError("too deep");
    host.eachScan(nowNs -> breakWhileHeld(host, () -> error));

    assertThatThrownBy(() -> host.bench.toTheEnd(new Told()))
        .isInstanceOf(IllegalStateException.class)
        .hasCause(error);

    assertThat(host.board.standing()).isEqualTo(Outputs.high(OutputLine.LAMP_BUSY));
  }

  private static void breakWhileHeld(HostOnBoard host, Supplier<Throwable> fault) {
    if (host.board.standing().isHigh(OutputLine.BANK_HOLD)) {
      host.board.breakOutput(OutputLine.LAMP_BUSY, fault);
    }
  }

  /** Keeps what it is told. */
  private static final class Told implements Program.Watcher {
    private final List<Integer> verdicts = new ArrayList<>();
    private final List<String> trips = new ArrayList<>();

    @Override
    public void event(LedgerEvent event, double rigSeconds) {}

    @Override
    public void verdict(Batch batch, int done, double rigSeconds) {
      verdicts.add(done);
    }

    @Override
    public void trip(String sentence) {
      trips.add(sentence);
    }
  }

  private static <E extends LedgerEvent> Optional<E> lastOf(HostOnBoard host, Class<E> kind) {
    List<E> found = new ArrayList<>();
    Consumer<StoredEvent> each =
        stored -> {
          LedgerEvent event = EventCodec.decode(stored).event();
          if (kind.isInstance(event)) {
            found.add(kind.cast(event));
          }
        };
    host.ledger.archive().forEach(1, Long.MAX_VALUE, each);
    return found.isEmpty() ? Optional.empty() : Optional.of(found.get(found.size() - 1));
  }
}
