package lodestep.interlock;

import java.util.ArrayList;
import java.util.List;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/**
 * What a job may want of one scan. The interlocks trust no job, so it is any of these in any scan:
 * the sensible ones, and those that no sane job asks for.
 *
 * @param wanted levels
 * @param permit whether it asks for the permit
 * @param window whether the head's fire window is asked for
 */
record ExploredJob(Outputs wanted, boolean permit, boolean window) {

  private static final Outputs HOLD = Outputs.high(OutputLine.BANK_HOLD);
  private static final Outputs FULL = Outputs.high(OutputLine.COIL_FULL);
  private static final Outputs REVERSE = Outputs.high(OutputLine.COIL_REVERSE);

  /** Wants nothing. */
  static final ExploredJob NOTHING = new ExploredJob(Outputs.ALL_LOW, false, false);

  static final List<ExploredJob> ALL = all();

  private static List<ExploredJob> all() {
    List<ExploredJob> jobs = new ArrayList<>();
    jobs.add(NOTHING);
    for (Outputs relays : List.of(FULL, REVERSE)) {
      for (Outputs energy : energies()) {
        Outputs wanted = new Outputs(relays.highBits() | energy.highBits());
        boolean shoots = energy.isHigh(OutputLine.COIL_FIRE) || energy.equals(HOLD);
        jobs.add(new ExploredJob(wanted, true, false));
        if (shoots) {
          jobs.add(new ExploredJob(wanted, true, true));
        }
      }
    }
    return List.copyOf(jobs);
  }

  private static List<Outputs> energies() {
    return List.of(
        Outputs.ALL_LOW,
        HOLD,
        HOLD.and(OutputLine.BANK_FILL),
        HOLD.and(OutputLine.COIL_FIRE),
        HOLD.and(OutputLine.BANK_FILL).and(OutputLine.COIL_FIRE),
        Outputs.high(OutputLine.COIL_FIRE));
  }

  String words() {
    return "wants "
        + (wanted.lines().isEmpty() ? "nothing" : wanted.lines())
        + (permit ? " and the permit" : "")
        + (window ? " and the window" : "");
  }
}
