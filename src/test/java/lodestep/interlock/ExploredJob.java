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
 * @param moveMm place that the jig is sent to; {@link ExploredCarriage#NOTHING} if none
 */
record ExploredJob(Outputs wanted, boolean permit, boolean window, int moveMm) {

  private static final Outputs HOLD = Outputs.high(OutputLine.BANK_HOLD);
  private static final Outputs ON = Outputs.high(OutputLine.COIL_ON);
  private static final Outputs JIG = Outputs.high(OutputLine.JIG_ENABLE);
  private static final Outputs FULL = Outputs.high(OutputLine.COIL_FULL);
  private static final Outputs REVERSE = Outputs.high(OutputLine.COIL_REVERSE);

  /** Wants nothing. */
  static final ExploredJob NOTHING =
      new ExploredJob(Outputs.ALL_LOW, false, false, ExploredCarriage.NOTHING);

  /** Whatever might be wanted of this rig. */
  static List<ExploredJob> all(ExploredKind kind) {
    List<ExploredJob> jobs = new ArrayList<>();
    jobs.add(NOTHING);
    switch (kind) {
      case BANK -> addCoil(jobs, List.of(FULL, REVERSE), aroundBank());
      case SWITCHED -> addCoil(jobs, List.of(FULL, REVERSE.and(OutputLine.LADDER_2)), aroundFeed());
      case JIG, BANK_AND_JIG -> addJig(jobs);
    }
    return List.copyOf(jobs);
  }

  private static void addCoil(List<ExploredJob> jobs, List<Outputs> ways, List<Outputs> energies) {
    for (Outputs relays : ways) {
      for (Outputs energy : energies) {
        Outputs wanted = new Outputs(relays.highBits() | energy.highBits());
        boolean shoots =
            energy.isHigh(OutputLine.COIL_FIRE) || energy.equals(HOLD) || energy.equals(ON);
        jobs.add(new ExploredJob(wanted, true, false, ExploredCarriage.NOTHING));
        if (shoots) {
          jobs.add(new ExploredJob(wanted, true, true, ExploredCarriage.NOTHING));
        }
      }
    }
  }

  private static List<Outputs> aroundBank() {
    return List.of(
        Outputs.ALL_LOW,
        HOLD,
        HOLD.and(OutputLine.BANK_FILL),
        HOLD.and(OutputLine.COIL_FIRE),
        HOLD.and(OutputLine.BANK_FILL).and(OutputLine.COIL_FIRE),
        Outputs.high(OutputLine.COIL_FIRE));
  }

  private static List<Outputs> aroundFeed() {
    return List.of(
        Outputs.ALL_LOW,
        ON,
        ON.and(OutputLine.COIL_FIRE),
        ON.and(OutputLine.BANK_HOLD).and(OutputLine.BANK_FILL),
        ON.and(OutputLine.JIG_ENABLE),
        Outputs.high(OutputLine.COIL_FIRE));
  }

  /** A jig sent somewhere, and a coil wanted beside it. */
  private static void addJig(List<ExploredJob> jobs) {
    for (int mm : List.of(ExploredCarriage.NOTHING, 0, ExploredKind.PARK_MM)) {
      jobs.add(new ExploredJob(JIG, true, false, mm));
    }
    jobs.add(new ExploredJob(HOLD, true, false, ExploredCarriage.NOTHING));
    jobs.add(
        new ExploredJob(HOLD.and(OutputLine.BANK_FILL), true, false, ExploredCarriage.NOTHING));
    jobs.add(new ExploredJob(JIG.and(OutputLine.BANK_HOLD), true, false, 0));
  }

  /** Without a heartbeat that asks for the permit the head opens no window. */
  ExploredJob asking(boolean asked) {
    return new ExploredJob(wanted, permit, window && asked, moveMm);
  }

  String words() {
    return "wants "
        + (wanted.lines().isEmpty() ? "nothing" : wanted.lines())
        + (permit ? " and the permit" : "")
        + (window ? " and the window" : "")
        + (moveMm != ExploredCarriage.NOTHING ? ", the jig sent to " + moveMm + " mm" : "");
  }
}
