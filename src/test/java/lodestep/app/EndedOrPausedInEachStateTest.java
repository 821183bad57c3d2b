package lodestep.app;

import static lodestep.app.OnRecord.events;
import static lodestep.app.OnRecord.trips;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.atomic.AtomicLong;
import lodestep.bench.BatchJob;
import lodestep.dial.DialState;
import lodestep.ledger.OpenWork;
import lodestep.ledger.Proof;
import lodestep.port.ActEvent;
import lodestep.port.Job;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Goal: asked by the system to end, or stopped by it for longer than the head waits, in whatever
 * state of the sequence, the host and its head let go, the record is closed or goes on, and a reset
 * is enough. Method: the host's own loop over a board's lines in virtual time, once for each state
 * that an undisturbed batch comes through, in the first scan of that state and in the middle of it.
 * What makes this of the system's signals is in {@code SignalledProgramTest}.
 */
class EndedOrPausedInEachStateTest {

  private static final long SEED = 23;
  private static final long LIMIT_NS = 600_000_000_000L;
  private static final long SCAN_NS = HostOnBoard.RIG.limits().scanPeriodNs();

  private static final Outputs ENERGY =
      Outputs.high(OutputLine.BANK_FILL, OutputLine.BANK_HOLD, OutputLine.COIL_FIRE);

  /** Below this the bank harms nobody; safety/interlocks.md. */
  private static final double LOW_VOLTS = 10.0;

  /** The job, the step of the dialing in it and that of the pulse in that, by their own names. */
  private static String state(Job job) {
    String name = job.getClass().getSimpleName();
    if (job instanceof BatchJob.Dialing dialing) {
      name += " " + dialing.dial().getClass().getSimpleName();
      if (dialing.dial() instanceof DialState.Acting acting) {
        name += " " + acting.act().getClass().getSimpleName();
      }
    }
    return name;
  }

  /** What an undisturbed batch comes through, and how long it stays, in scans. */
  private static final class Stay {
    private final Set<String> met = new TreeSet<>();
    private String now = "";
    private int scans;

    /** Whether this state has begun for the first time, or been there so many scans. */
    boolean isAt(Job job, String state, int scan) {
      String is = state(job);
      scans = is.equals(now) ? scans + 1 : 0;
      now = is;
      met.add(is);
      return is.equals(state) && scans == scan;
    }
  }

  private static Set<String> states() {
    Stay stay = new Stay();
    HostOnBoard host = HostOnBoard.inside(HostOnBoard.oneRod(), SEED);
    host.eachScan(nowNs -> stay.isAt(host.bench.snapshot().job(), "", 0)).bench.run();
    stay.met.remove("Done");
    return stay.met;
  }

  /** Scans after the first of a state in which it is tried, too, where it lasts so long. */
  private static final List<Integer> LATER = List.of(3, 7, 40);

  private static void stopIn(String state, int scan) {
    HostOnBoard host = HostOnBoard.inside(HostOnBoard.oneRod(), SEED);
    Stay stay = new Stay();
    AtomicLong askedAtNs = new AtomicLong();
    host.eachScan(
            nowNs -> {
              boolean at = stay.isAt(host.bench.snapshot().job(), state, scan);
              if ((at && askedAtNs.get() == 0) || nowNs > LIMIT_NS) {
                askedAtNs.set(nowNs);
                host.bench.askStop();
              }
              if (askedAtNs.get() > 0 && nowNs > askedAtNs.get() + SCAN_NS) {
                // From the scan after the asking on nothing stores or releases energy.
                assertThat(host.board.standing().only(ENERGY)).isEqualTo(Outputs.ALL_LOW);
              }
            })
        .bench
        .run();

    String when = state + ", scan " + scan;
    if (scan > 0 && askedAtNs.get() == 0) {
      return; // never there for so long
    }
    assertThat(askedAtNs.get()).as(when).isBetween(1L, LIMIT_NS);
    assertThat(host.bench.failure()).as(when).isEmpty();
    assertThat(host.board.standing()).as(when).isEqualTo(Outputs.ALL_LOW);
    assertThat(host.rig().plant().bankVoltage().volts()).as(when).isLessThanOrEqualTo(LOW_VOLTS);
    assertThat(host.nowNs() - askedAtNs.get())
        .as(when)
        .isLessThanOrEqualTo(LoopRunner.LET_GO_WAIT_NS);
    assertRecord(host, when);
  }

  private static void assertRecord(HostOnBoard host, String when) {
    assertThat(Proof.of(host.store, List.of())).as(when).isInstanceOf(Proof.Result.Whole.class);
    OpenWork open = OpenWork.of(host.store);
    assertThat(open.intents()).as("open pulses, " + when).isEmpty();
    assertThat(open.magnets()).as("open attempts, " + when).isEmpty();
    assertThat(trips(host)).as(when).containsExactly(TripCause.STOP_ASKED);
    List<LedgerEvent> events = events(host);
    assertThat(events.get(events.size() - 1))
        .as(when)
        .isEqualTo(new LedgerEvent.ProgramStopped("stopped before the batch was over"));
    long pulses = host.rig().truth().pulses();
    assertThat(events.stream().filter(ActEvent.PulseIntended.class::isInstance).count())
        .as("an intent for each pulse, " + when)
        .isGreaterThanOrEqualTo(pulses);
  }

  @Test
  void endsInOrderInEveryState() {
    Set<String> states = states();

    assertThat(states)
        .contains("Loading", "Dialing AwaitMove", "Dialing Acting Fill", "Dialing Acting Fire")
        .hasSizeGreaterThan(18);
    states.forEach(state -> stopIn(state, 0));
  }

  @Test
  @Tag("signals")
  void endsInOrderInTheMiddleOfEveryState() {
    states().forEach(state -> LATER.forEach(scan -> stopIn(state, scan)));
  }

  /** Longer than the head waits for a heartbeat, and than a scan may be late. */
  private static final long PAUSE_NS = 400_000_000L;

  /** From the last heartbeat to the permit's open contact; PROTOCOL.md, "Timing". */
  private static final long PERMIT_OPEN_NS = 250_000_000L;

  private static void pauseIn(String state, int scan) {
    HostOnBoard host = HostOnBoard.inside(HostOnBoard.oneRod(), SEED);
    Stay stay = new Stay();
    AtomicLong pausedAtNs = new AtomicLong();
    AtomicLong heldUntilNs = new AtomicLong();
    host.eachScan(
            nowNs -> {
              if (pausedAtNs.get() == 0 && stay.isAt(host.bench.snapshot().job(), state, scan)) {
                pausedAtNs.set(nowNs);
                host.pause(
                    PAUSE_NS,
                    atNs -> {
                      if (host.rig().truth().permitClosed()) {
                        heldUntilNs.set(atNs);
                      }
                    });
              } else if (pausedAtNs.get() > 0 && nowNs == pausedAtNs.get() + PAUSE_NS + SCAN_NS) {
                assertThat(host.board.standing().only(ENERGY)).isEqualTo(Outputs.ALL_LOW);
              }
              if (nowNs > LIMIT_NS) {
                host.bench.askStop();
              }
            })
        .bench
        .run();

    String when = state + ", scan " + scan;
    if (scan > 0 && pausedAtNs.get() == 0) {
      return; // never there for so long
    }
    // The last heartbeat was sent in the scan before the one that did not come.
    assertThat(heldUntilNs.get() - (pausedAtNs.get() - SCAN_NS))
        .as("permit held, " + when)
        .isLessThan(PERMIT_OPEN_NS);
    assertThat(trips(host)).as(when).containsExactly(TripCause.SCAN_LATE);
    assertThat(Proof.of(host.store, List.of())).as(when).isInstanceOf(Proof.Result.Whole.class);
    assertThat(OpenWork.of(host.store).intents()).as("open pulses, " + when).isEmpty();
    OnRecord.assertAccepted(host);
  }

  @Test
  void letsGoAndGoesOnAfterAResetWhenStoppedForLongInEveryState() {
    statesToPauseIn().forEach(state -> pauseIn(state, 0));
  }

  @Test
  @Tag("signals")
  void letsGoAndGoesOnWhenStoppedInTheMiddleOfEveryState() {
    statesToPauseIn().forEach(state -> LATER.forEach(scan -> pauseIn(state, scan)));
  }

  /** Before its first scan a host is not late for anything, and no permit was ever asked for. */
  private static Set<String> statesToPauseIn() {
    Set<String> states = states();
    states.remove("Opening");
    return states;
  }
}
