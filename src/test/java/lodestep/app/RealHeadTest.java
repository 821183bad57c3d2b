package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import lodestep.app.remote.HandOrder;
import lodestep.app.remote.RemoteRig;
import lodestep.app.remote.RigOrder;
import lodestep.bench.HandWork;
import lodestep.bench.LedgerStart;
import lodestep.bench.NestSeatings;
import lodestep.bench.PlanRow;
import lodestep.cli.HeadWork;
import lodestep.cli.Refusal;
import lodestep.config.HeadConfig;
import lodestep.config.RigConfig;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.dial.Verdict;
import lodestep.ledger.MagnetHistory;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Shape;
import lodestep.measure.GaugeCalibration;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.sim.StockPiece;
import lodestep.sim.VirtualLedger;
import lodestep.sim.VirtualWallClock;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: work by hand at a head on a serial line goes its whole way over real bytes. Method: head,
 * magnet and hand in a process of their own behind a pseudo-terminal, and a pace that moves both
 * processes on together, so that no speed shows.
 */
class RealHeadTest {

  private static final long SEED = 3;
  private static final Instant WALL = Instant.parse("2031-05-06T09:00:00Z");
  private static final GaugeCalibration GAUGE =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);

  private final RigConfig config;
  private final HeadConfig.SerialHead described;

  RealHeadTest(@TempDir Path folder) {
    this.config = HostOnBoard.at(folder.resolve("head"), HostOnBoard.RIG);
    this.described = (HeadConfig.SerialHead) config.head();
  }

  /**
   * The machine's time, as the rig's process has it.
   *
   * @param typed gets Enter when the hand says that a thing is done
   */
  private record RigPace(RemoteRig rig, Queue<String> typed) implements Pace {
    @Override
    public long nowNs() {
      return rig.clock().nowNs();
    }

    @Override
    public void until(long atNs) {
      rig.advance(atNs - nowNs());
      for (int said = 0; said < rig.continues(); said++) {
        typed.add("");
      }
    }
  }

  private PlanRow row() {
    return new PlanRow(
        1,
        "martin",
        Optional.empty(),
        AlloyBook.standard().find("alnico 2").orElseThrow(),
        new Shape.Rod(Length.ofMm(5.1), Length.ofMm(17.5)),
        config.nest("rod nest"),
        PoleUp.SOUTH,
        new Task.ToLevel(FluxDensity.ofGauss(-410), FluxDensity.ofGauss(12)),
        1);
  }

  private RemoteRig started() throws IOException {
    PlanRow row = row();
    StockPiece piece =
        new StockPiece(
            row.alloy().name(), row.shape(), false, false, SEED, SEED + 1, "rod nest", List.of());
    HandOrder hand = new HandOrder("rod nest", SEED, List.of(piece), List.of(400e3), 17_500);
    return RemoteRig.start(RigOrder.byHand(config, hand));
  }

  @Test
  void chargesKnocksDownAndProvesAMagnetByHandOverASerialLine() throws IOException {
    VirtualLedger ledger = new VirtualLedger(SEED);
    try (RemoteRig rig = started()) {
      Queue<String> typed = new ArrayDeque<>();
      Pace pace = new RigPace(rig, typed);
      RealHead head =
          RealHead.greeted(rig.head(), described, new VirtualWallClock(rig.clock(), WALL), pace);
      HandBench bench =
          new HandBench(
              head,
              HandWork.of(row(), config, GAUGE, NestSeatings.USUAL, List.of()),
              new LedgerStart(HostOnBoard.prologue(), Optional.empty()),
              ledger,
              ledger::advance,
              "");
      HeadWork.HandOutcome outcome =
          bench.toTheEnd(new Follower(rig), typed, () -> rig.clock().nowNs() > 600_000_000_000L);

      assertThat(outcome.verdict()).as(outcome.why()).isEqualTo(Verdict.ACCEPTED);
      assertThat(outcome.hand().last().orElseThrow().value().gauss()).isBetween(-422.0, -398.0);
      assertThat(rig.gone()).isEmpty();
      MagnetHistory history =
          MagnetHistory.of(ledger.archive(), outcome.hand().magnet()).orElseThrow();
      assertThat(history.standingVerdict().orElseThrow().verdict()).isEqualTo("accepted");
    }
  }

  /** Tells the hand what the program asks. */
  private record Follower(RemoteRig rig) implements HeadWork.HandWatcher {
    @Override
    public void event(LedgerEvent event, double seconds) {
      assertThat(event).isNotInstanceOf(ActEvent.PulseIntended.class);
    }

    @Override
    public void now(HeadWork.HandLive live) {
      assertThat(live.silence()).isEmpty();
      rig.cue(live.cue());
    }

    @Override
    public void says(String sentence) {}
  }

  @Test
  void refusesAnotherHeadAndLetsItsPortGo() throws IOException {
    try (RemoteRig rig = started()) {
      HeadConfig.SerialHead other = new HeadConfig.SerialHead(described.port(), "LINE-08");

      assertThatThrownBy(
              () ->
                  RealHead.greeted(
                      rig.head(),
                      other,
                      new VirtualWallClock(rig.clock(), WALL),
                      new RigPace(rig, new ArrayDeque<>())))
          .isInstanceOf(Refusal.class)
          .hasMessageContaining("has serial number LINE-07, but rig.toml names LINE-08");
      assertThat(rig.head().state(rig.clock().nowNs()).open()).isFalse();
    }
  }
}
