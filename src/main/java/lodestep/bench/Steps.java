package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.port.Command;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;

/** What the states of a batch share. */
final class Steps {

  private Steps() {}

  static JobStep to(Job next, Outputs wanted, List<LedgerEvent> events) {
    return new JobStep(next, wanted, false, events, List.of(), Optional.empty());
  }

  /** One entry for each thing a person asked in this view. */
  static List<LedgerEvent> asked(View view) {
    if (view.commands().isEmpty()) {
      return List.of();
    }
    List<LedgerEvent> events = new ArrayList<>();
    for (Command command : view.commands()) {
      events.add(new LedgerEvent.PersonAsked(command.name().toLowerCase(Locale.ROOT)));
    }
    return events;
  }

  /** Of a rig that rests: nothing is driven but the buzzer while a trip stands. */
  static Outputs resting(View view) {
    return view.trip().isPresent() ? Outputs.high(OutputLine.BUZZER) : Outputs.ALL_LOW;
  }

  /** Whether to wait, after what was asked in this view. */
  static boolean paused(boolean paused, View view) {
    if (view.commands().contains(Command.CONTINUE)) {
      return false;
    }
    return paused || view.commands().contains(Command.PAUSE);
  }
}
