package lodestep.app;

import static lodestep.app.OnRecord.assertAccepted;
import static lodestep.app.OnRecord.events;
import static lodestep.app.OnRecord.first;
import static lodestep.app.OnRecord.outcomes;
import static lodestep.app.OnRecord.trips;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Queue;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.LongSupplier;
import java.util.function.UnaryOperator;
import lodestep.port.HeadLink;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RefusalReason;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: whatever the way between host and head does to what is sent, nothing fires twice or late,
 * and a silent or restarted head is seen. Method: the whole host over a board's pretended lines and
 * a pseudo-terminal, the rig in a process of its own, stepped scan by scan; in between stands what
 * disturbs.
 */
class DisturbedLinkTest {

  private static final long SEED = 23;
  private static final long MS = 1_000_000L;
  private static final long LIMIT_NS = 120_000 * MS;
  private static final Outputs ENERGY =
      Outputs.high(OutputLine.BANK_FILL, OutputLine.BANK_HOLD, OutputLine.COIL_FIRE);

  private final Path port;

  DisturbedLinkTest(@TempDir Path folder) {
    this.port = folder.resolve("head");
  }

  private HostOnBoard host(FaultPlan faults, UnaryOperator<HeadLink> between) throws IOException {
    HostOnBoard host =
        HostOnBoard.onALine(
            HostOnBoard.oneRod(), SEED, HostOnBoard.at(port, HostOnBoard.RIG), faults, between);
    return host.eachScan(nowNs -> giveUpInTime(host, nowNs));
  }

  private static void giveUpInTime(HostOnBoard host, long nowNs) {
    if (nowNs > LIMIT_NS) {
      host.bench.askStop();
    }
  }

  /** Half of what is sent is sent once more; keeps what the head says to it. */
  private static final class Repeating extends PassedOn {
    private final SplittableRandom random = new SplittableRandom(SEED);
    private final Map<Long, Set<Integer>> firedTokens = new HashMap<>();
    private int usedTokensRefused;

    Repeating(HeadLink link) {
      super(link);
    }

    @Override
    public void offer(HeadRequest request) {
      super.offer(request);
      if (random.nextBoolean()) {
        super.offer(request);
      }
    }

    @Override
    public List<ReceivedFrame> take() {
      List<ReceivedFrame> frames = super.take();
      for (ReceivedFrame received : frames) {
        if (received.frame() instanceof HeadFrame.PulseReport report && report.fired()) {
          firedTokens
              .computeIfAbsent(report.intentNumber(), number -> new HashSet<>())
              .add(report.token());
        }
        if (received.frame() instanceof HeadFrame.Refused refused
            && refused.reason() == RefusalReason.BAD_TOKEN) {
          usedTokensRefused++;
        }
      }
      return frames;
    }
  }

  @Test
  void firesOnceForEachIntentWhenHalfOfTheRequestsComeTwice() throws IOException {
    List<Repeating> links = new ArrayList<>();
    try (HostOnBoard host =
        host(
            FaultPlan.NONE,
            link -> {
              links.add(new Repeating(link));
              return links.get(0);
            })) {
      host.bench.run();

      Repeating link = links.get(0);
      assertThat(link.usedTokensRefused).as("second copies refused").isPositive();
      assertThat(link.firedTokens).isNotEmpty();
      assertThat(link.firedTokens.values()).allMatch(tokens -> tokens.size() == 1);
      assertThat(outcomes(host)).filteredOn("delivered"::equals).hasSize(link.firedTokens.size());
    }
  }

  /** Keeps back what is sent, as a clogged line does, and lets it go all together. */
  private static final class Clogged extends PassedOn {
    private final Queue<HeadRequest> kept = new ArrayDeque<>();
    private boolean clogged;
    private boolean once;

    Clogged(HeadLink link) {
      super(link);
    }

    @Override
    public void offer(HeadRequest request) {
      if (request instanceof HeadRequest.OpenWindow && !once) {
        once = true;
        clogged = true;
      }
      if (clogged) {
        kept.add(request);
      } else {
        super.offer(request);
      }
    }

    void letGo() {
      clogged = false;
      kept.forEach(super::offer);
      kept.clear();
    }
  }

  @Test
  void firesNothingThatIsHeldBackForFiveSecondsAndComesTogether() throws IOException {
    List<Clogged> links = new ArrayList<>();
    try (HostOnBoard host =
        host(
            FaultPlan.NONE,
            link -> {
              links.add(new Clogged(link));
              return links.get(0);
            })) {
      AtomicInteger scans = new AtomicInteger();
      host.eachScan(
          nowNs -> {
            giveUpInTime(host, nowNs);
            if (links.get(0).clogged && scans.incrementAndGet() == 1_000) {
              links.get(0).letGo();
            }
          });

      host.bench.run();

      assertThat(scans).hasValue(1_000);
      assertThat(trips(host)).containsExactly(TripCause.PERMIT_LOST);
      assertThat(outcomes(host).get(0)).isEqualTo("not fired");
      assertThat(outcomes(host).subList(1, outcomes(host).size())).containsOnly("delivered");
      assertAccepted(host);
    }
  }

  @Test
  void tripsWhenTheHeadFallsSilentWithItsPortOpen() throws IOException {
    FaultPlan silent = FaultPlan.NONE.with(new Fault.HeadSilent(), 14_000 * MS, 15_000 * MS);
    try (HostOnBoard host = host(silent, link -> link)) {
      AtomicInteger open = new AtomicInteger();
      host.eachScan(
          nowNs -> {
            giveUpInTime(host, nowNs);
            if (host.bench.snapshot().trip().isPresent() && nowNs < 15_000 * MS) {
              open.addAndGet(host.remote().head().state(nowNs).open() ? 1 : 0);
            }
          });

      host.bench.run();

      assertThat(trips(host)).first().isEqualTo(TripCause.HEAD_SILENT);
      assertThat(open.get()).as("scans in the trip with the port open").isGreaterThan(10);
      assertAccepted(host);
    }
  }

  /** As a head does that is reset when its port is opened. */
  @Test
  void knowsAHeadThatHasStartedAnewByTheTimeItsPortOpensAgain() throws IOException {
    FaultPlan down = FaultPlan.NONE.with(new Fault.HeadDown(), 14_200 * MS, 14_300 * MS);
    try (HostOnBoard host = host(down, link -> link)) {
      AtomicInteger acts = new AtomicInteger();
      host.eachScan(
          nowNs -> {
            giveUpInTime(host, nowNs);
            if (nowNs >= 14_000 * MS && acts.compareAndSet(0, 1)) {
              host.pullCable();
            }
            if (nowNs >= 15_000 * MS && acts.compareAndSet(1, 2)) {
              host.plugIn();
            }
          });

      host.bench.run();

      assertThat(trips(host)).first().isEqualTo(TripCause.HEAD_SILENT);
      assertThat(events(host))
          .filteredOn(LedgerEvent.HeadSeen.class::isInstance)
          .extracting(event -> ((LedgerEvent.HeadSeen) event).bootId())
          .doesNotHaveDuplicates()
          .hasSize(2);
      assertThat(outcomes(host)).doesNotContain("unknown");
      assertAccepted(host);
    }
  }

  /** A line on which all that the head says comes later and later, until it is cleared. */
  private static final class Clogging extends PassedOn {
    private static final long LATE_NS = 400 * MS;

    private final Queue<ReceivedFrame> kept = new ArrayDeque<>();
    private final LongSupplier clock;
    private long fromNs = Long.MAX_VALUE;

    Clogging(HeadLink link, LongSupplier clock) {
      super(link);
      this.clock = clock;
    }

    void from(long nowNs) {
      fromNs = nowNs;
    }

    void clear() {
      fromNs = Long.MAX_VALUE;
    }

    @Override
    public List<ReceivedFrame> take() {
      long nowNs = clock.getAsLong();
      kept.addAll(super.take());
      List<ReceivedFrame> come = new ArrayList<>();
      while (!kept.isEmpty() && kept.element().receivedAtNs() + lateNs() <= nowNs) {
        ReceivedFrame frame = kept.remove();
        boolean late = frame.receivedAtNs() >= fromNs;
        come.add(late ? new ReceivedFrame(frame.frame(), nowNs) : frame);
      }
      return come;
    }

    private long lateNs() {
      long onTheWayNs = kept.element().receivedAtNs() - fromNs;
      return fromNs == Long.MAX_VALUE ? 0 : Math.max(0, Math.min(LATE_NS, onTheWayNs / 5));
    }
  }

  @Test
  void tripsWhenLinesComeLaterAndLaterThoughTheyNeverStop() throws IOException {
    List<Clogging> links = new ArrayList<>();
    List<HostOnBoard> hosts = new ArrayList<>();
    try (HostOnBoard host =
        host(
            FaultPlan.NONE,
            link -> {
              links.add(new Clogging(link, () -> hosts.isEmpty() ? 0 : hosts.get(0).nowNs()));
              return links.get(0);
            })) {
      hosts.add(host);
      AtomicInteger acts = new AtomicInteger();
      host.eachScan(
          nowNs -> {
            giveUpInTime(host, nowNs);
            if (nowNs >= 14_000 * MS && acts.compareAndSet(0, 1)) {
              links.get(0).from(nowNs);
            }
            if (host.bench.snapshot().trip().isPresent()) {
              links.get(0).clear();
              assertThat(host.board.standing().only(ENERGY)).isEqualTo(Outputs.ALL_LOW);
            }
          });

      host.bench.run();

      assertThat(trips(host)).containsExactly(TripCause.HEAD_SILENT);
      assertThat(first(events(host), LedgerEvent.Tripped.class).detail())
          .startsWith("its newest line ");
      assertAccepted(host);
    }
  }
}
