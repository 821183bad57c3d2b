package lodestep.sim;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import lodestep.config.SupplyConfig;
import lodestep.port.OutputLine;

/**
 * The relays of a switched coil's feed and ladder, and the hardware timer in the supply of the
 * switch's gate. The timer starts when the gate rises and takes its supply away after the longest
 * pulse, until the gate has fallen. Confined to its plant.
 */
final class SwitchedFeed {

  private static final int ON = FaultState.bit(OutputLine.COIL_ON);

  private final Relay on;
  private final List<Relay> ladder = new ArrayList<>();
  private final long longestMs;
  private long gateMs;

  SwitchedFeed(SupplyConfig supply, SplittableRandom random) {
    this.on = new Relay(RelayName.ON.bit(), random.split());
    for (int index = 0; index < supply.ladderOhms().size(); index++) {
      ladder.add(new Relay(RelayName.ladder(index).bit(), random.split()));
    }
    this.longestMs = supply.longestNs() / 1_000_000;
  }

  /**
   * One millisecond.
   *
   * @param energy whether the hard-wired chain feeds the feed relay
   * @param gate whether the gate would be high without the timer
   */
  void step(boolean energy, boolean gate, int outputBits, FaultState faults, Switching switching) {
    on.step(energy && (outputBits & ON) != 0, faults);
    switching.feed = on.makeClosed();
    int level = 0;
    for (int index = 0; index < ladder.size(); index++) {
      int line = FaultState.bit(OutputLine.LADDER.get(index));
      ladder.get(index).step((outputBits & line) != 0, faults);
      level |= ladder.get(index).makeClosed() ? 1 << index : 0;
    }
    switching.level = level;
    gateMs = gate ? gateMs + 1 : 0;
    switching.fire = gate && (faults.timerDead || gateMs <= longestMs);
  }

  /** Whether the feed relay's mirror contact is closed: the relay is released. */
  boolean released() {
    return on.breakClosed();
  }
}
