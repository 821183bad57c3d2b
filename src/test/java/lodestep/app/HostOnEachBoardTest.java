package lodestep.app;

import static lodestep.app.OnRecord.all;
import static lodestep.app.OnRecord.assertAccepted;
import static lodestep.app.OnRecord.assertGoesOnWithACharge;
import static lodestep.app.OnRecord.events;
import static lodestep.app.OnRecord.outcomeOfTheCutAct;
import static lodestep.app.OnRecord.trips;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.Stream;
import lodestep.config.RigConfig;
import lodestep.ledger.Proof;
import lodestep.port.ActEvent;
import lodestep.port.Bytes;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import lodestep.sim.FaultPlan;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: every kind of rig that is shipped for a board dials a magnet over that board's pins and a
 * serial line at once, drives no pin but when it may, and is safe and on record when the cable is
 * pulled in the middle of an act. Method: the shipped files as they stand, their own pins on the
 * library's pretended board, the head on a pseudo-terminal in a process of its own; stepped scan by
 * scan. What the pins did is compared with what the ledger says, neither of which knows the other.
 */
class HostOnEachBoardTest {

  private static final long SEED = 23;
  private static final long MS = 1_000_000L;
  private static final long LIMIT_NS = 1_200_000 * MS;

  private static final OutputLine FIRE = OutputLine.COIL_FIRE;
  private static final OutputLine JIG = OutputLine.JIG_ENABLE;
  private static final Outputs ENERGY =
      Outputs.high(OutputLine.BANK_FILL, OutputLine.BANK_HOLD, FIRE, OutputLine.COIL_ON, JIG);

  /** Relays that are never to switch while the coil carries a pulse. */
  private static final Outputs DRY = Outputs.high(OutputLine.COIL_REVERSE, OutputLine.COIL_FULL);

  private final Path port;

  HostOnEachBoardTest(@TempDir Path folder) {
    this.port = folder.resolve("head");
  }

  /**
   * A shipped rig.
   *
   * @param energy the lines of energy that it drives to dial a magnet
   * @param cut the line in whose being driven the cable is pulled
   * @param cutAfterMs so long after that line has risen for an act on the magnet
   * @param outcomes what may be on record of the act that was cut
   */
  private record Kind(
      String file, Set<OutputLine> energy, OutputLine cut, long cutAfterMs, Set<String> outcomes) {

    RigConfig at(Path port) {
      return HostOnBoard.at(port, HostOnBoard.shipped(file));
    }

    @Override
    public String toString() {
      return file;
    }
  }

  static Stream<Kind> kinds() {
    Set<OutputLine> bank = EnumSet.of(OutputLine.BANK_FILL, OutputLine.BANK_HOLD, FIRE);
    Set<OutputLine> both = EnumSet.copyOf(bank);
    both.add(JIG);
    Set<String> unmeasured = Set.of("unverified");
    return Stream.of(
        new Kind("rig-real-coil.toml", bank, FIRE, 5, unmeasured),
        new Kind("rig-real-jig.toml", EnumSet.of(JIG), JIG, 1_500, unmeasured),
        new Kind("rig-real-coil-and-jig.toml", both, JIG, 1_500, unmeasured),
        new Kind(
            "rig-real-switched.toml", EnumSet.of(OutputLine.COIL_ON, FIRE), FIRE, 10, unmeasured));
  }

  /** What stood at the pins, scan by scan. */
  private static final class Pins {
    private final HostOnBoard host;
    private final List<String> wrong = new ArrayList<>();
    private Outputs before = Outputs.ALL_LOW;
    private Outputs ever = Outputs.ALL_LOW;
    private int fired;
    private long jigSinceNs;

    Pins(HostOnBoard host) {
      this.host = host;
    }

    void look(long nowNs) {
      Outputs now = host.board.standing();
      fired += rises(now, FIRE) ? 1 : 0;
      jigSinceNs = rises(now, JIG) ? nowNs : jigSinceNs;
      ever = new Outputs(ever.highBits() | now.highBits());
      boolean energised = !now.only(ENERGY).equals(Outputs.ALL_LOW);
      note(energised && !now.isHigh(OutputLine.LAMP_BUSY), "energy with the lamp dark", nowNs);
      note(now.isHigh(JIG) && now.isHigh(FIRE), "the coil is fired while the jig may move", nowNs);
      note(
          now.isHigh(JIG) && now.isHigh(OutputLine.BANK_HOLD),
          "the bank is held while the jig may move",
          nowNs);
      note(
          now.isHigh(FIRE) && before.isHigh(FIRE) && !relays(now).equals(relays(before)),
          "a relay is switched in a pulse",
          nowNs);
      note(host.bench.snapshot().trip().isPresent() && energised, "energy while tripped", nowNs);
      before = now;
    }

    private static Outputs relays(Outputs levels) {
      Outputs dry = DRY;
      for (OutputLine relay : OutputLine.LADDER) {
        dry = dry.and(relay);
      }
      return levels.only(dry);
    }

    private boolean rises(Outputs now, OutputLine line) {
      return now.isHigh(line) && !before.isHigh(line);
    }

    private void note(boolean seen, String what, long nowNs) {
      if (seen) {
        wrong.add(what + " at " + nowNs / MS + " ms: " + host.board.standing().lines());
      }
    }
  }

  private static HostOnBoard watched(HostOnBoard host, Pins pins) {
    return host.eachScan(
        nowNs -> {
          pins.look(nowNs);
          giveUpInTime(host, nowNs);
        });
  }

  /** Ends a run that would never end, so that the test fails and does not hang. */
  private static void giveUpInTime(HostOnBoard host, long nowNs) {
    if (nowNs > LIMIT_NS) {
      host.bench.askStop();
    }
  }

  @ParameterizedTest
  @MethodSource("kinds")
  void dialsAMagnetOverItsOwnPinsToTheSameRecordAsInsideTheProgram(Kind kind) throws IOException {
    RigConfig rig = kind.at(port);
    try (HostOnBoard host =
        HostOnBoard.onALine(HostOnBoard.oneRod(rig), SEED, rig, FaultPlan.NONE)) {
      Pins pins = new Pins(host);

      watched(host, pins).bench.run();

      assertThat(trips(host)).isEmpty();
      assertAccepted(host);
      assertThat(pins.wrong).isEmpty();
      assertThat(pins.ever.only(ENERGY).lines()).hasSameElementsAs(kind.energy());
      assertThat(pins.fired).as("pulses at the pin").isEqualTo(pulses(host));
      assertThat(host.board.standing()).isEqualTo(Outputs.ALL_LOW);
      assertWhole(host);
      assertThat(host.ledger.canonicalBytes()).isEqualTo(inside(rig));
    }
  }

  private static Bytes inside(RigConfig rig) {
    try (HostOnBoard host =
        HostOnBoard.inside(HostOnBoard.oneRod(rig), SEED, rig, FaultPlan.NONE)) {
      watched(host, new Pins(host)).bench.run();
      return host.ledger.canonicalBytes();
    }
  }

  private static int pulses(HostOnBoard host) {
    return all(host, ActEvent.PulseIntent.class).size();
  }

  private static void assertWhole(HostOnBoard host) {
    assertThat(Proof.of(host.ledger.archive(), List.of())).isInstanceOf(Proof.Result.Whole.class);
    List<Long> ends =
        all(host, ActEvent.ActEnded.class).stream().map(ActEvent.ActEnded::intent).toList();
    assertThat(ends).as("one end for each intent").doesNotHaveDuplicates();
    assertThat(ends).hasSameSizeAs(all(host, ActEvent.Intent.class));
  }

  @ParameterizedTest
  @MethodSource("kinds")
  void letsGoWhenTheCableIsPulledInTheMiddleOfAnActAndGoesOnWithACharge(Kind kind)
      throws IOException {
    RigConfig rig = kind.at(port);
    try (HostOnBoard host =
        HostOnBoard.onALine(HostOnBoard.oneRod(rig), SEED, rig, FaultPlan.NONE)) {
      Pins pins = new Pins(host);
      AtomicInteger pulled = new AtomicInteger();
      AtomicLong pulledAtNs = new AtomicLong();
      AtomicLong roseAtNs = new AtomicLong(Long.MAX_VALUE);
      host.eachScan(
          nowNs -> {
            boolean act = host.board.standing().isHigh(kind.cut()) && actIsOpen(host);
            roseAtNs.set(act ? Math.min(roseAtNs.get(), nowNs) : Long.MAX_VALUE);
            if (act && nowNs - roseAtNs.get() >= kind.cutAfterMs() * MS && pulled.get() == 0) {
              pulled.set(1);
              pulledAtNs.set(nowNs);
              host.pullCable();
            }
            if (pulled.get() == 1 && nowNs >= pulledAtNs.get() + 1_000 * MS) {
              pulled.set(2);
              host.plugIn();
            }
            pins.look(nowNs);
            giveUpInTime(host, nowNs);
          });

      host.bench.run();

      assertThat(pulled).hasValue(2);
      assertThat(trips(host)).containsExactly(TripCause.HEAD_SILENT);
      assertThat(pins.wrong).isEmpty();
      assertThat(outcomeOfTheCutAct(host)).isIn(kind.outcomes());
      assertThat(verdicts(host)).containsExactly("tripped", "accepted");
      assertGoesOnWithACharge(host);
      assertWhole(host);
      assertThat(host.board.standing()).isEqualTo(Outputs.ALL_LOW);
    }
  }

  /** The newest entry is an act's intent: the jig's homing and measuring are none. */
  private static boolean actIsOpen(HostOnBoard host) {
    List<LedgerEvent> events = events(host);
    return events.get(events.size() - 1) instanceof ActEvent.Intent;
  }

  private static List<String> verdicts(HostOnBoard host) {
    return all(host, LedgerEvent.VerdictGiven.class).stream()
        .map(LedgerEvent.VerdictGiven::verdict)
        .toList();
  }
}
