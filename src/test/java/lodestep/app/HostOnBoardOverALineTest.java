package lodestep.app;

import static lodestep.app.OnRecord.assertAccepted;
import static lodestep.app.OnRecord.assertGoesOnWithACharge;
import static lodestep.app.OnRecord.boots;
import static lodestep.app.OnRecord.outcomeOfTheCutAct;
import static lodestep.app.OnRecord.trips;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.Stream;
import lodestep.config.RigConfig;
import lodestep.port.Bytes;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: the whole host over a board's lines and a serial line at once dials a magnet, and lets go
 * by name of whatever happens to either, and goes on after it. Method: the loop, the board adapter
 * on the library's pretended pins and the serial link on a pseudo-terminal, with the virtual plant
 * and head in a process of their own; stepped scan by scan. A run with everything inside the
 * program, which goes the same way to the millisecond, tells when to break what.
 */
class HostOnBoardOverALineTest {

  private static final long SEED = 23;
  private static final long MS = 1_000_000L;
  private static final long LIMIT_NS = 600_000 * MS;
  private static final OutputLine FILL = OutputLine.BANK_FILL;
  private static final OutputLine FIRE = OutputLine.COIL_FIRE;
  private static final Outputs ENERGY = Outputs.high(FILL, OutputLine.BANK_HOLD, FIRE);

  private final Path folder;
  private final Path port;
  private final RigConfig rig;

  HostOnBoardOverALineTest(@TempDir Path folder) {
    this.folder = folder;
    this.port = folder.resolve("head");
    this.rig = HostOnBoard.at(port, HostOnBoard.RIG);
  }

  private HostOnBoard host(FaultPlan faults) throws IOException {
    HostOnBoard host = HostOnBoard.onALine(HostOnBoard.oneRod(), SEED, rig, faults);
    return host.eachScan(nowNs -> giveUpInTime(host, nowNs));
  }

  /** Ends a run that would never end, so that the test fails and does not hang. */
  private static void giveUpInTime(HostOnBoard host, long nowNs) {
    if (nowNs > LIMIT_NS) {
      host.bench.askStop();
    }
  }

  @Test
  void dialsAMagnetToTheSameRecordAsInsideTheProgram() throws IOException {
    Bytes inside;
    try (HostOnBoard host = HostOnBoard.inside(HostOnBoard.oneRod(), SEED, rig, FaultPlan.NONE)) {
      host.eachScan(nowNs -> giveUpInTime(host, nowNs)).bench.run();
      inside = host.ledger.canonicalBytes();
    }
    List<ProcessHandle> processes;
    try (HostOnBoard host = host(FaultPlan.NONE)) {
      processes = processes(host);

      host.bench.run();

      assertAccepted(host);
      assertThat(trips(host)).isEmpty();
      assertThat(host.board.standing()).isEqualTo(Outputs.ALL_LOW);
      assertThat(host.ledger.canonicalBytes()).isEqualTo(inside);
    }
    assertNothingIsLeft(processes);
  }

  /**
   * What breaks.
   *
   * @param after so long after this line is first driven with the bank proven, in milliseconds
   */
  private record Broken(String what, List<Fault> faults, OutputLine line, long after, long forMs) {
    FaultPlan plan() {
      long fromNs = firstDriven(line) + after * MS;
      FaultPlan plan = FaultPlan.NONE;
      for (Fault fault : faults) {
        plan = plan.with(fault, fromNs, fromNs + forMs * MS);
      }
      return plan;
    }

    @Override
    public String toString() {
      return what;
    }
  }

  private record Case(Broken broken, TripCause cause, List<String> outcomes) {
    /** A head needs 300 ms to start, longer than its silence is borne. */
    boolean startsAnew() {
      return broken.faults().contains(new Fault.HeadDown());
    }

    @Override
    public String toString() {
      return broken + ": " + cause;
    }
  }

  private static Fault opened(InputLine line) {
    return new Fault.ContactStuck(line, false);
  }

  static Stream<Case> cases() {
    List<Fault> lid = List.of(opened(InputLine.LID_A), opened(InputLine.LID_B));
    List<Fault> down = List.of(new Fault.HeadDown());
    List<Fault> wire = List.of(new Fault.HeadWireBroken(InputLine.FULL_CONTACT));
    List<String> notFired = List.of("not fired");
    List<String> unmeasured = List.of("unverified", "not fired");
    return Stream.of(
        new Case(
            new Broken("the lid is opened while the bank is filled", lid, FILL, 500, 2_000),
            TripCause.LID_OPENED,
            notFired),
        new Case(
            new Broken("the head starts anew while the bank is filled", down, FILL, 500, 60),
            TripCause.HEAD_SILENT,
            notFired),
        new Case(
            new Broken("the head starts anew in mid-pulse", down, FIRE, 10, 60),
            TripCause.HEAD_SILENT,
            unmeasured),
        new Case(
            new Broken("lines and head disagree while the bank is filled", wire, FILL, 500, 2_000),
            TripCause.CONTACTS_DISAGREE,
            notFired));
  }

  @ParameterizedTest
  @MethodSource("cases")
  void tripsByNameLetsGoAndGoesOnWithACharge(Case given) throws IOException {
    List<ProcessHandle> processes;
    try (HostOnBoard host = host(given.broken().plan())) {
      processes = processes(host);
      AtomicLong scansInTrip = new AtomicLong();
      host.eachScan(
          nowNs -> {
            giveUpInTime(host, nowNs);
            if (host.bench.snapshot().trip().isPresent()) {
              scansInTrip.incrementAndGet();
              assertThat(host.board.standing().only(ENERGY)).isEqualTo(Outputs.ALL_LOW);
            }
          });

      host.bench.run();

      assertThat(host.bench.failure()).isEmpty();
      assertThat(scansInTrip.get()).isPositive();
      assertThat(trips(host)).first().isEqualTo(given.cause());
      assertThat(outcomeOfTheCutAct(host)).isIn(given.outcomes());
      assertThat(boots(host)).as("starts of the head").hasSize(given.startsAnew() ? 2 : 1);
      assertGoesOnWithACharge(host);
    }
    assertNothingIsLeft(processes);
  }

  @Test
  void tripsWhenTheCableIsPulledWhileTheBankIsFilledAndGoesOnWhenItIsPluggedIn()
      throws IOException {
    long pullAtNs = firstDriven(FILL) + 500 * MS;
    AtomicInteger pulled = new AtomicInteger();
    List<ProcessHandle> processes;
    try (HostOnBoard host = host(FaultPlan.NONE)) {
      host.eachScan(
          nowNs -> {
            giveUpInTime(host, nowNs);
            if (nowNs >= pullAtNs && pulled.compareAndSet(0, 1)) {
              host.pullCable();
            }
            if (nowNs >= pullAtNs + 1_000 * MS && pulled.compareAndSet(1, 2)) {
              assertThat(host.board.standing().only(ENERGY)).isEqualTo(Outputs.ALL_LOW);
              host.plugIn();
            }
          });

      host.bench.run();

      processes = processes(host);
      assertThat(pulled).hasValue(2);
      assertThat(trips(host)).containsExactly(TripCause.HEAD_SILENT);
      assertThat(outcomeOfTheCutAct(host)).isEqualTo("not fired");
      assertGoesOnWithACharge(host);
    }
    assertNothingIsLeft(processes);
  }

  /**
   * When this line goes high first, the bank proven; the same with the head on a line and inside.
   */
  private static long firstDriven(OutputLine line) {
    try (HostOnBoard host = HostOnBoard.inside(HostOnBoard.oneRod(), SEED)) {
      AtomicLong atNs = new AtomicLong();
      host.eachScan(
              nowNs -> {
                giveUpInTime(host, nowNs);
                boolean proven = host.bench.snapshot().view().bankProven();
                if (atNs.get() == 0 && proven && host.board.standing().isHigh(line)) {
                  atNs.set(nowNs);
                  host.bench.askStop();
                }
              })
          .bench
          .run();
      assertThat(atNs.get()).isPositive();
      return atNs.get();
    }
  }

  private static List<ProcessHandle> processes(HostOnBoard host) {
    List<ProcessHandle> processes = new ArrayList<>(host.remote().process().descendants().toList());
    assertThat(processes).as("socat").hasSize(1);
    processes.add(host.remote().process());
    return processes;
  }

  private void assertNothingIsLeft(List<ProcessHandle> processes) {
    assertThat(processes).noneMatch(ProcessHandle::isAlive);
    assertThat(Files.exists(port, LinkOption.NOFOLLOW_LINKS)).isFalse();
    assertThat(folder).isEmptyDirectory();
  }
}
