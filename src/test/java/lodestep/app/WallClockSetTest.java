package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.atomic.AtomicReference;
import java.util.stream.IntStream;
import lodestep.config.ReferenceRig;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.Proof;
import lodestep.port.InputLine;
import lodestep.port.Job;
import lodestep.port.LedgerEvent;
import lodestep.port.TripCause;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Goal: whoever sets the computer's clock, forward or back, changes labels in the record and
 * nothing else: nothing times out, fires early or comes in another order. Method: the same batch
 * twice, once with the wall clock set at every change of state; what was done, and when by the
 * monotonic clock, must be the same to the nanosecond.
 */
class WallClockSetTest {

  private static final long SEED = 23;
  private static final long MS = 1_000_000L;
  private static final long LIMIT_NS = 600_000 * MS;

  /** How the clock is set; a time service steps it a little, a lost battery by decades. */
  private enum Set {
    FORWARD {
      @Override
      Duration by(SplittableRandom random) {
        return Duration.ofMillis(random.nextLong(1, 40_000_000_000L));
      }
    },
    BACK {
      @Override
      Duration by(SplittableRandom random) {
        return Duration.ofMillis(-random.nextLong(1, 4_000_000_000L));
      }
    },
    A_LITTLE_TO_AND_FRO {
      @Override
      Duration by(SplittableRandom random) {
        return Duration.ofMillis(random.nextLong(-60_000, 60_000));
      }
    };

    abstract Duration by(SplittableRandom random);
  }

  /** The lid is opened while the bank is filled, so that a trip and its reset are in it, too. */
  private static FaultPlan lidOpened() {
    return FaultPlan.NONE
        .with(new Fault.ContactStuck(InputLine.LID_A, false), 20_000 * MS, 21_000 * MS)
        .with(new Fault.ContactStuck(InputLine.LID_B, false), 20_000 * MS, 21_000 * MS);
  }

  private static HostOnBoard host() {
    return HostOnBoard.inside(HostOnBoard.oneRod(), SEED, ReferenceRig.virtual(), lidOpened());
  }

  private static List<LedgerEntry> record(HostOnBoard host) {
    assertThat(host.bench.failure()).isEmpty();
    OnRecord.assertAccepted(host);
    assertThat(Proof.of(host.store, List.of())).isInstanceOf(Proof.Result.Whole.class);
    List<LedgerEntry> entries = new ArrayList<>();
    host.store.forEach(1, Long.MAX_VALUE, stored -> entries.add(EventCodec.decode(stored)));
    return entries;
  }

  private static void giveUpInTime(HostOnBoard host, long nowNs) {
    if (nowNs > LIMIT_NS) {
      host.bench.askStop();
    }
  }

  @ParameterizedTest
  @EnumSource
  void doesTheSameAtTheSameTimeHoweverTheClockIsSet(Set set) {
    HostOnBoard undisturbed = host();
    undisturbed.eachScan(nowNs -> giveUpInTime(undisturbed, nowNs)).bench.run();
    List<LedgerEntry> usual = record(undisturbed);
    HostOnBoard host = host();
    SplittableRandom random = new SplittableRandom(SEED);
    AtomicReference<Class<? extends Job>> last = new AtomicReference<>(Job.class);
    host.eachScan(
            nowNs -> {
              giveUpInTime(host, nowNs);
              Class<? extends Job> now = host.bench.snapshot().job().getClass();
              if (!now.equals(last.getAndSet(now)) || random.nextInt(200) == 0) {
                host.wall.jump(set.by(random));
              }
            })
        .bench
        .run();
    List<LedgerEntry> disturbed = record(host);

    assertThat(OnRecord.trips(host)).contains(TripCause.LID_OPENED);
    assertThat(disturbed).extracting(LedgerEntry::event).isEqualTo(events(usual));
    assertThat(disturbed)
        .extracting(LedgerEntry::atNs)
        .isEqualTo(usual.stream().map(LedgerEntry::atNs).toList());
    assertSet(set, disturbed.stream().map(LedgerEntry::wall).toList());
  }

  private static List<LedgerEvent> events(List<LedgerEntry> entries) {
    return entries.stream().map(LedgerEntry::event).toList();
  }

  /** The labels show that it was set: a test in which it was not would prove nothing. */
  private static void assertSet(Set set, List<Instant> walls) {
    long back =
        IntStream.range(1, walls.size())
            .filter(i -> walls.get(i).isBefore(walls.get(i - 1)))
            .count();
    Duration all = Duration.between(walls.get(0), walls.get(walls.size() - 1));
    if (set == Set.FORWARD) {
      assertThat(all).isGreaterThan(Duration.ofDays(365));
    } else {
      assertThat(back).as("labels before the one before").isGreaterThan(3);
    }
  }
}
