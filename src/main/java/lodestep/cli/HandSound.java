package lodestep.cli;

import java.util.Optional;
import lodestep.dial.Task;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.LedgerEvent;
import lodestep.port.Sound;
import lodestep.quantity.FluxDensity;

/**
 * What is heard of work by hand. While the opposing magnet is near, the gauge sees its stray field
 * with the magnet's own, so the pitch follows how much of this approach is done: it begins the
 * higher the nearer the last settled reading is to the band, by half of the whole rise at most, and
 * is at its top at the word "stop". With all hands off the reading itself is heard, once something
 * has been knocked down. Confined to one thread.
 */
final class HandSound {

  /** An approach always rises by at least the other half. */
  private static final double BEGINS_AT_MOST = 0.5;

  private final Task task;
  private Optional<SoundBand> band = Optional.empty();
  private double pole = 1;
  private double settledTesla;
  private double furthestTesla;
  private boolean knockedDown;

  HandSound(Task task) {
    this.task = task;
  }

  /** Takes a settled reading. */
  void read(LedgerEvent.ReadingTaken reading) {
    FluxDensity value = FluxDensity.ofMicroTesla(reading.fieldMicroTesla());
    band = band.or(() -> Optional.of(SoundBand.of(task, value)));
    pole =
        task instanceof Task.ToLevel level
            ? Math.signum(level.target().tesla())
            : Math.signum(furthestTesla == 0 ? value.tesla() : pole);
    settledTesla = pole * value.tesla();
    furthestTesla = Math.max(furthestTesla, settledTesla);
  }

  /** What is heard now. */
  Sound of(HandCue cue, Optional<FluxDensity> live) {
    HandAsk ask = cue.ask();
    return switch (ask) {
      case CLOSER -> {
        knockedDown = true;
        double begins = BEGINS_AT_MOST * begun();
        yield new Sound.Rising(begins + (1 - begins) * cue.closeness());
      }
      case AWAY -> new Sound.Past();
      case WAIT -> live.filter(value -> knockedDown).map(this::atRest).orElseGet(Sound.Silent::new);
      case LEAVE_EMPTY, SEAT, CHARGE_NORTH, CHARGE_SOUTH, TAKE_OUT, LOOK -> {
        knockedDown = false;
        yield new Sound.Silent();
      }
    };
  }

  private double begun() {
    return band.map(known -> known.nearness(settledTesla, furthestTesla)).orElse(0.0);
  }

  /** Above the band there is nothing to hear: the next approach is to come. */
  private Sound atRest(FluxDensity live) {
    Sound heard =
        band.map(known -> known.sound(pole * live.tesla(), furthestTesla))
            .orElseGet(Sound.Silent::new);
    return heard instanceof Sound.Rising ? new Sound.Silent() : heard;
  }
}
