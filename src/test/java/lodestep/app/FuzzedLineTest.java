package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import lodestep.app.FuzzedBytes.Change;
import lodestep.config.ReferenceRig;
import lodestep.ledger.OpenWork;
import lodestep.ledger.Proof;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.sim.FaultPlan;
import lodestep.sim.RigTruth;
import lodestep.sim.VirtualRig;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Goal: whatever lines with a right checksum come over the serial line, in either direction, no
 * energy flows without a durable intent, the host fails in nothing, and no line vanishes uncounted.
 * Method: the production host over a board's lines in virtual time, with a virtual operator who
 * resets and goes on, and a line that changes what passes, from a seed.
 */
class FuzzedLineTest {

  private static final long MS = 1_000_000L;
  private static final long FUZZED_NS = 60_000 * MS;
  private static final long LIMIT_NS = 85_000 * MS;

  /** Of the lines, one in so many is changed: a bad wire, and one that now and then lies. */
  private static final double[] SHARES = {0.2, 0.02, 0.002, 0.0005};

  private static final Outputs STORES = Outputs.high(OutputLine.BANK_FILL, OutputLine.BANK_HOLD);

  @Test
  void hasTheStandardChecksum() {
    // Check value of CRC-16/CCITT-FALSE, also called CRC-16/IBM-3740; from memory.
    assertThat(FuzzedBytes.sum("123456789")).isEqualTo(0x29b1);
  }

  @Test
  void drawsNoEnergyOutOfAFuzzedLine() {
    Tally tally = new Tally();
    for (long seed = 1; seed <= 16; seed++) {
      run(seed, tally);
    }
    System.out.println(tally);
    tally.assertTold();
  }

  @Test
  @Tag("fuzz")
  void drawsNoEnergyOutOfALineFuzzedForLong() {
    Tally tally = new Tally();
    for (long seed = 1; seed <= 2_000; seed++) {
      run(seed, tally);
      if (seed % 100 == 0) {
        System.out.println(tally);
      }
    }
    tally.assertTold();
  }

  /** What has been tried. */
  private static final class Tally {
    private final Map<Change, Integer> toHost = new EnumMap<>(Change.class);
    private final Map<Change, Integer> toHead = new EnumMap<>(Change.class);
    private int runs;
    private int accepted;
    private long pulses;
    private long trips;
    private long badAtHost;
    private long badAtHead;

    void add(HostOnBoard host, FuzzedLink link) {
      runs++;
      link.toHost.done().forEach((change, count) -> toHost.merge(change, count, Integer::sum));
      link.toHead.done().forEach((change, count) -> toHead.merge(change, count, Integer::sum));
      pulses += host.rig().truth().pulses();
      trips += OnRecord.trips(host).size();
      badAtHost += link.badAtHost();
      badAtHead += link.badAtHead();
      accepted +=
          OnRecord.all(host, LedgerEvent.VerdictGiven.class).stream()
                  .anyMatch(verdict -> verdict.verdict().equals("accepted"))
              ? 1
              : 0;
    }

    /** A line that let nothing through, or nothing be changed, would prove nothing. */
    void assertTold() {
      assertThat(FuzzedBytes.all(toHost)).as(toHost.toString()).isTrue();
      assertThat(FuzzedBytes.all(toHead)).as(toHead.toString()).isTrue();
      assertThat(pulses).as("pulses").isGreaterThan(runs);
      assertThat(trips).as("trips").isGreaterThan(runs / 2);
      assertThat(accepted).as("magnets accepted all the same").isPositive();
    }

    @Override
    public String toString() {
      return String.format(
          Locale.ROOT,
          "%d runs: %d changes to the host (%d bad lines), %d to the head (%d bad lines); %d"
              + " pulses, %d trips, %d magnets accepted",
          runs,
          toHost.values().stream().mapToInt(Integer::intValue).sum(),
          badAtHost,
          toHead.values().stream().mapToInt(Integer::intValue).sum(),
          badAtHead,
          pulses,
          trips,
          accepted);
    }
  }

  /** Looks at the rig itself, and at what the record has open, before each scan. */
  private static final class Judge {
    private final HostOnBoard host;
    private final long seed;
    private Outputs last = Outputs.ALL_LOW;
    private long pulses;

    Judge(HostOnBoard host, long seed) {
      this.host = host;
      this.seed = seed;
    }

    void look(long nowNs) {
      RigTruth truth = host.rig().truth();
      Outputs now = host.board.standing();
      boolean rises = (now.only(STORES).highBits() & ~last.highBits()) != 0;
      if (rises || truth.pulses() != pulses) {
        String when = "seed " + seed + " at " + (nowNs - VirtualRig.START_NS) / MS + " ms";
        // The store holds what is durable, and nothing else.
        assertThat(OpenWork.of(host.store).intents()).as("open intents, " + when).isNotEmpty();
        assertThat(truth.pulses() - pulses).as("pulses in one scan, " + when).isLessThan(2);
      }
      last = now;
      pulses = truth.pulses();
    }
  }

  private static void run(long seed, Tally tally) {
    SplittableRandom random = new SplittableRandom(seed);
    double share = SHARES[(int) (seed % SHARES.length)];
    List<FuzzedLink> links = new ArrayList<>();
    HostOnBoard host =
        HostOnBoard.inside(
            HostOnBoard.oneRod(),
            seed,
            ReferenceRig.virtual(),
            FaultPlan.NONE,
            (rig, link) -> {
              links.add(new FuzzedLink(rig.headLink(), random, share));
              return links.get(0);
            });
    FuzzedLink link = links.get(0);
    Judge judge = new Judge(host, seed);
    host.eachScan(
            nowNs -> {
              judge.look(nowNs);
              if (nowNs > FUZZED_NS) {
                link.heal();
              }
              if (nowNs > LIMIT_NS) {
                host.bench.askStop();
              }
            })
        .bench
        .run();
    String when = "seed " + seed;
    assertThat(host.bench.failure()).as(when).isEmpty();
    assertThat(host.board.standing()).as(when).isEqualTo(Outputs.ALL_LOW);
    assertThat(Proof.of(host.store, List.of())).as(when).isInstanceOf(Proof.Result.Whole.class);
    assertThat(OpenWork.of(host.store).intents()).as(when).isEmpty();
    assertNoMoreDelivered(host, when);
    assertThat(link.heardByHost()).as("lines, " + when).isEqualTo(link.toHost.lines());
    assertThat(link.heardByHead()).as("lines, " + when).isEqualTo(link.toHead.lines());
    assertThat(link.badAtHost()).as(when).isGreaterThanOrEqualTo(link.toHost.badSums());
    assertThat(link.badAtHead()).as(when).isGreaterThanOrEqualTo(link.toHead.badSums());
    tally.add(host, link);
  }

  /** A lying line may have a pulse called unverified, but can make none out of nothing. */
  private static void assertNoMoreDelivered(HostOnBoard host, String when) {
    long intents = OnRecord.all(host, ActEvent.PulseIntended.class).size();
    assertThat(host.rig().truth().pulses())
        .as("pulses, each with an intent of its own, " + when)
        .isLessThanOrEqualTo(intents);
  }
}
