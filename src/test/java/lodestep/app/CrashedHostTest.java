package lodestep.app;

import static lodestep.app.OnRecord.all;
import static lodestep.app.OnRecord.events;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.Continuation;
import lodestep.bench.Entry;
import lodestep.bench.NestSeatings;
import lodestep.ledger.OpenWork;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Goal: a pulse that a crash has cut off is asked of the head, which goes on living, before it is
 * given up as unknown. Method: the host on a board is ended in the middle of a pulse, in a way that
 * lets it write nothing more; then another is begun at the same rig and ledger. Once with the head
 * inside the program, once with it in a process of its own on a pseudo-terminal.
 */
class CrashedHostTest {

  private static final long SEED = 23;
  private static final long MS = 1_000_000L;
  private static final long DOWN_MS = 600;

  /** The program is gone: nothing of it goes on. */
  private static final class Killed extends Error {
    private static final long serialVersionUID = 1L;
  }

  private enum HeadIs {
    INSIDE,
    ON_A_LINE
  }

  private final Path port;

  CrashedHostTest(@TempDir Path folder) {
    this.port = folder.resolve("head");
  }

  private HostOnBoard host(HeadIs where, FaultPlan faults) throws IOException {
    Batch batch = HostOnBoard.oneRod();
    return where == HeadIs.INSIDE
        ? HostOnBoard.inside(batch, SEED, HostOnBoard.RIG, faults)
        : HostOnBoard.onALine(batch, SEED, HostOnBoard.at(port, HostOnBoard.RIG), faults);
  }

  private HostOnBoard killedWhile(HeadIs where, OutputLine driven, int scans, FaultPlan faults)
      throws IOException {
    HostOnBoard host = host(where, faults);
    AtomicInteger seen = new AtomicInteger();
    host.eachScan(
            nowNs -> {
              if (host.board.standing().isHigh(driven) && seen.incrementAndGet() == scans) {
                throw new Killed();
              }
            })
        .bench
        .run();
    assertThat(host.bench.failure()).containsInstanceOf(Killed.class);
    assertThat(OpenWork.of(host.store).intents()).as("open pulses").hasSize(1);
    host.runPlant(host.nowNs() + DOWN_MS * MS);
    return host;
  }

  private static HostOnBoard startedAnew(HostOnBoard dead) {
    HostOnBoard host = HostOnBoard.after(dead, leftOpen(dead), SEED);
    host.eachScan(
            nowNs -> {
              assertThat(host.board.standing().isHigh(OutputLine.BANK_FILL)).isFalse();
              boolean begun = host.bench.snapshot().job() instanceof BatchJob.Loading;
              if (begun || nowNs > 600_000 * MS) {
                host.bench.askStop();
              }
            })
        .bench
        .run();
    assertThat(host.bench.failure()).isEmpty();
    assertThat(host.board.standing()).isEqualTo(Outputs.ALL_LOW);
    return host;
  }

  private static Batch leftOpen(HostOnBoard dead) {
    Batch begun = HostOnBoard.oneRod();
    Continuation going = Continuation.of(dead.store).orElseThrow();
    List<Entry> entries =
        going.entries(
            Entry.planned(
                begun.entries().stream().map(entry -> entry.prepared().row()).toList(),
                HostOnBoard.RIG));
    return new Batch(
        begun.name(),
        begun.planSha256(),
        begun.planText(),
        going.number(),
        entries,
        begun.mode(),
        begun.memory(),
        begun.zero(),
        begun.calibration(),
        0,
        NestSeatings.USUAL);
  }

  private static ActEvent.PulseEnded onlyEnd(HostOnBoard host) {
    List<LedgerEvent> events = events(host);
    List<ActEvent.PulseEnded> ends = new ArrayList<>();
    int closedAt = 0;
    int startedAt = 0;
    for (int i = 0; i < events.size(); i++) {
      if (events.get(i) instanceof ActEvent.PulseEnded end) {
        ends.add(end);
        closedAt = i;
      }
      if (events.get(i) instanceof LedgerEvent.ProgramStarted) {
        startedAt = i;
      }
    }
    assertThat(ends).hasSize(1);
    assertThat(closedAt).as("closed before the new start is told").isLessThan(startedAt);
    return ends.get(0);
  }

  @ParameterizedTest
  @EnumSource
  void hasTheHeadTellHowThePulseEnded(HeadIs where) throws IOException {
    try (HostOnBoard dead = killedWhile(where, OutputLine.COIL_FIRE, 3, FaultPlan.NONE)) {
      HostOnBoard host = startedAnew(dead);

      ActEvent.PulseEnded end = onlyEnd(host);
      assertThat(end.outcome()).isEqualTo("delivered");
      assertThat(end.why()).contains("the head's ring told how it ended");
      assertThat(end.peakForwardMilliAmps()).as("a charge to the north").isGreaterThan(10_000);
      assertThat(end.bootId()).isPositive();
      assertThat(all(host, LedgerEvent.VerdictGiven.class))
          .extracting(LedgerEvent.VerdictGiven::verdict)
          .as("the magnet begins again with a charge")
          .containsExactly("tripped");
    }
  }

  @ParameterizedTest
  @EnumSource
  void saysUnknownWhenTheHeadHasNoReportOfIt(HeadIs where) throws IOException {
    try (HostOnBoard dead = killedWhile(where, OutputLine.BANK_FILL, 20, FaultPlan.NONE)) {
      assertThat(onlyEnd(startedAnew(dead)).outcome()).isEqualTo("unknown");
    }
  }

  @ParameterizedTest
  @EnumSource
  void saysUnknownWhenTheHeadHasStartedAnewMeanwhile(HeadIs where) throws IOException {
    HostOnBoard trial = killedWhile(HeadIs.INSIDE, OutputLine.COIL_FIRE, 3, FaultPlan.NONE);
    long killedAtNs = trial.nowNs() - DOWN_MS * MS;
    FaultPlan down =
        FaultPlan.NONE.with(new Fault.HeadDown(), killedAtNs + 200 * MS, killedAtNs + 220 * MS);

    try (HostOnBoard dead = killedWhile(where, OutputLine.COIL_FIRE, 3, down)) {
      assertThat(onlyEnd(startedAnew(dead)).outcome()).isEqualTo("unknown");
    }
  }
}
