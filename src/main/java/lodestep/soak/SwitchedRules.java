package lodestep.soak;

import java.util.List;
import java.util.Optional;
import lodestep.port.ActEvent;

/** Rules of a switched coil's feed and ladder. */
final class SwitchedRules {

  private SwitchedRules() {}

  static List<Rule> all() {
    return List.of(
        new FiresOnItsLevel(), new LadderStaysUnderFeed(), new SwitchProvenBeforePulse());
  }

  /** Since when the ladder's contacts and that of the range relay have been as they are. */
  private static final class Ladder {
    private int level;
    private boolean full;
    private long sinceMs;

    /** Takes up this millisecond; whether a contact has moved in it. */
    boolean moved(Witness w) {
      boolean moved = w.level != level || w.full != full;
      if (moved) {
        level = w.level;
        full = w.full;
        sinceMs = w.ms;
      }
      return moved;
    }
  }

  /** The current is chosen before it flows, and as it stands on record. */
  static final class FiresOnItsLevel extends Rule {
    private static final long STILL_MS = 50;

    private final Ladder ladder = new Ladder();
    private String why = "";

    FiresOnItsLevel() {
      super(
          "INV-01b",
          "a switched coil's gate is fed only with feed on, and ladder and range as the intent says"
              + " and still for 50 ms");
    }

    @Override
    boolean broken(Witness w) {
      if (!w.rig.supply()) {
        return false;
      }
      ladder.moved(w);
      Optional<RecordFacts.Act> act = w.record.act(w.windowIntent);
      if (!w.fireRose
          || act.isEmpty()
          || !(act.get().intended instanceof ActEvent.SwitchedPulseIntended pulse)) {
        return false;
      }
      // The ladder has no mirror contacts: a relay of it that fails shows in the current alone.
      boolean broken = w.ladderBroken(STILL_MS + 10);
      boolean other = pulse.full() != w.full || (!w.full && pulse.level() != w.level);
      why = other && !broken ? "another level; " : "";
      why += w.ms - ladder.sinceMs < STILL_MS && !broken ? "ladder not still; " : "";
      why += w.feeding || w.relayBroken("on", "coil on", 30) ? "" : "feed off; ";
      return !why.isEmpty();
    }

    @Override
    String detail(Witness w) {
      return why + "level " + w.level + (w.full ? ", bridged, " : ", ") + super.detail(w);
    }
  }

  /** Relays of the ladder carry a pulse and switch none. */
  static final class LadderStaysUnderFeed extends Rule {
    private static final double CURRENT_ZERO_AMPS = 0.06;

    private final Ladder ladder = new Ladder();

    LadderStaysUnderFeed() {
      super(
          "INV-07b",
          "ladder and range relay of a switched coil never move with the feed on, a current in the"
              + " coil or a window open");
    }

    @Override
    boolean broken(Witness w) {
      if (!w.rig.supply() || !ladder.moved(w)) {
        return false;
      }
      boolean live = w.feeding || w.window || Math.abs(w.coilAmps) > CURRENT_ZERO_AMPS;
      boolean rig =
          w.ladderBroken(Witness.TRAVEL_MS)
              || w.relayBroken("on", "coil on", Witness.TRAVEL_MS)
              || w.stood(HappeningKind.SWITCH_SHORTED, Witness.TRAVEL_MS)
              || w.stood(HappeningKind.BANK_SENSE, 2_000);
      // Who loses its lines with the computer, or finds them anew, has no say in it.
      boolean computer = !w.hostUp || w.ms - w.hostFromMs <= 100;
      return live && !rig && !computer;
    }
  }

  /** Nothing but the switch ends such a pulse, so it is seen to block first. */
  static final class SwitchProvenBeforePulse extends Rule {
    private static final double NO_AMPS = 0.06;

    /** The sequence wants 60 ms of lines, of which the first and the last are up to 10 ms old. */
    private static final int BLOCKS_FOR_MS = 40;

    private int blockedForMs;
    private boolean proven;

    SwitchProvenBeforePulse() {
      super(
          "INV-21b",
          "a switched coil is fired only when since its last pulse its switch has blocked a feed"
              + " that could drive little, and that feed was let go");
    }

    @Override
    boolean broken(Witness w) {
      if (!w.rig.supply()) {
        return false;
      }
      boolean unproven = w.fireRose && !proven && !w.stood(HappeningKind.RELAY_PULLED, "on", 1_000);
      if (w.firing) {
        proven = false;
        blockedForMs = 0;
      } else if (!w.feeding) {
        proven |= blockedForMs >= BLOCKS_FOR_MS;
        blockedForMs = 0;
      } else {
        // A bridge that sticks by itself is seen by nobody, and what then blocks, blocks more.
        boolean weak = !w.full || w.ladderBroken(Witness.TRAVEL_MS);
        boolean blocks = weak && Math.abs(w.coilAmps) < NO_AMPS;
        blockedForMs = blocks ? blockedForMs + 1 : 0;
      }
      return unproven;
    }
  }
}
