package lodestep.device;

import java.util.List;
import java.util.Optional;
import lodestep.config.JigConfig;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.quantity.Length;

/**
 * Takes the jig through some positions, one after another, with its driver on from before the first
 * to after the last. Position 0 is home: the head seeks the switch, and proves its count by it.
 * Pure and total.
 *
 * <p>The head is never sent further than {@link #AHEAD_MICRO_METRES} beyond where it is: whatever
 * happens to the host, the jig does not run on.
 *
 * @param targetsMicroMetres from home; those reached are taken off
 * @param stage how far it is
 * @param sinceNs when this stage began, or when the carriage last moved
 * @param sentMicroMetres the newest position asked for on the way to the first target
 * @param lastMicroMetres position in the newest line
 * @param lowestMicroMetres the nearest to the work that was seen
 * @param failed why it cannot go on
 */
public record JigMove(
    JigConfig jig,
    List<Integer> targetsMicroMetres,
    Stage stage,
    long sinceNs,
    int sentMicroMetres,
    int lastMicroMetres,
    int lowestMicroMetres,
    Optional<String> failed) {

  /** How far a move is. */
  public enum Stage {
    /** Waits for the permit and the driver. */
    ENABLE,
    /** On the way to the first target. */
    GO,
    /** At the first target, for as long as eddies and screw need. */
    DWELL,
    /** Over; the driver is off. */
    DONE
  }

  /** A small step of the approach; also as far as the jig runs on by itself. */
  static final int AHEAD_MICRO_METRES = 4_000;

  /** The next small step is asked for this long before the last one ends. */
  private static final int LEAD_MICRO_METRES = 1_500;

  /** Rounding of the head's steps. */
  private static final int THERE_MICRO_METRES = 25;

  private static final long DWELL_NS = 60_000_000L;
  private static final long ENABLE_NS = 3_000_000_000L;

  /** A line, its answer and a slow start are over by then. */
  private static final long STANDS_NS = 1_500_000_000L;

  private static final int NOT_SENT = Integer.MIN_VALUE;

  public JigMove {
    targetsMicroMetres = List.copyOf(targetsMicroMetres);
  }

  /** What a move wants of one scan. */
  public record Step(JigMove next, Outputs wanted, boolean permit, List<HeadRequest> requests) {
    public Step {
      requests = List.copyOf(requests);
    }
  }

  /** A move about to begin. */
  public static JigMove through(JigConfig jig, List<Integer> targetsMicroMetres, long nowNs) {
    return new JigMove(
        jig,
        targetsMicroMetres,
        Stage.ENABLE,
        nowNs,
        NOT_SENT,
        0,
        Integer.MIN_VALUE,
        Optional.empty());
  }

  /** Whether it is over, well or not. */
  public boolean done() {
    return stage == Stage.DONE;
  }

  /** Whether the driver was on: then it may have moved. */
  public boolean begun() {
    return lowestMicroMetres != Integer.MIN_VALUE;
  }

  /** What this scan wants. */
  public Step step(View view) {
    return switch (stage) {
      case ENABLE -> enable(view);
      case GO -> go(view);
      case DWELL -> dwell(view);
      case DONE -> new Step(this, Outputs.ALL_LOW, false, List.of());
    };
  }

  private Step enable(View view) {
    if (powered(view)) {
      int at = position(view);
      return moving(
          new JigMove(jig, targetsMicroMetres, Stage.GO, view.nowNs(), NOT_SENT, at, at, failed),
          List.of());
    }
    if (view.nowNs() - sinceNs > ENABLE_NS) {
      return over("the jig's driver or the head's permit did not come");
    }
    return moving(this, List.of());
  }

  private Step go(View view) {
    for (ReceivedFrame received : view.frames()) {
      if (received.frame() instanceof HeadFrame.Refused refused && refused.intentNumber() == 0) {
        return over("the head refused to move the jig");
      }
    }
    if (!powered(view)) {
      return switchedOff();
    }
    int at = position(view);
    long since = at != lastMicroMetres ? view.nowNs() : sinceNs;
    JigMove now = at(Stage.GO, since, sentMicroMetres, at);
    if (sentMicroMetres != NOT_SENT && there(view)) {
      return moving(now.at(Stage.DWELL, view.nowNs(), sentMicroMetres, at), List.of());
    }
    if (targetsMicroMetres.get(0) != 0 && !has(view, HeadFlag.JIG_FAR)) {
      // The head has dropped the move; a driver that runs on goes to the hard stop if it is fed.
      return over(
          "the far switch opened, with "
              + Length.ofMicroMetres(at).written()
              + " from home counted; see driver, motor and far switch");
    }
    int next = next(at);
    if (next != sentMicroMetres) {
      return moving(
          now.at(Stage.GO, view.nowNs(), next, at), List.of(new HeadRequest.MoveTo(next)));
    }
    if (view.nowNs() - since > STANDS_NS) {
      return over(
          "the jig did not move any more, "
              + Length.ofMicroMetres(at).written()
              + " from home; see motor, screw and limit switches");
    }
    return moving(now, List.of());
  }

  /** The position to ask for now. */
  private int next(int at) {
    int target = targetsMicroMetres.get(0);
    if (target == 0) {
      return 0;
    }
    boolean due = sentMicroMetres == NOT_SENT || sentMicroMetres - at < LEAD_MICRO_METRES;
    return due ? Math.min(target, at + AHEAD_MICRO_METRES) : sentMicroMetres;
  }

  private boolean there(View view) {
    int target = targetsMicroMetres.get(0);
    boolean home = !has(view, HeadFlag.JIG_HOME) && has(view, HeadFlag.HOMED);
    return newLine(view)
        && sentMicroMetres == target
        && Math.abs(position(view) - target) <= THERE_MICRO_METRES
        && (target == 0 ? home : has(view, HeadFlag.HOMED));
  }

  /** Whether the head may step: it has dropped the move when it once might not. */
  private static boolean powered(View view) {
    return has(view, HeadFlag.PERMIT) && view.driven().isHigh(OutputLine.JIG_ENABLE);
  }

  private Step switchedOff() {
    return over("the jig's driver was switched off on its way, or the head's permit fell");
  }

  private Step dwell(View view) {
    if (!powered(view)) {
      return switchedOff();
    }
    if (view.nowNs() - sinceNs < DWELL_NS) {
      return moving(this, List.of());
    }
    List<Integer> rest = targetsMicroMetres.subList(1, targetsMicroMetres.size());
    JigMove next =
        new JigMove(
            jig,
            rest,
            rest.isEmpty() ? Stage.DONE : Stage.GO,
            view.nowNs(),
            NOT_SENT,
            lastMicroMetres,
            lowestMicroMetres,
            failed);
    return rest.isEmpty()
        ? new Step(next, Outputs.ALL_LOW, false, List.of())
        : moving(next, List.of());
  }

  private JigMove at(Stage newStage, long since, int sent, int at) {
    return new JigMove(
        jig,
        targetsMicroMetres,
        newStage,
        since,
        sent,
        at,
        Math.max(lowestMicroMetres, at),
        failed);
  }

  private Step over(String why) {
    JigMove next =
        new JigMove(
            jig,
            targetsMicroMetres,
            Stage.DONE,
            sinceNs,
            sentMicroMetres,
            lastMicroMetres,
            lowestMicroMetres,
            Optional.of(why));
    return new Step(next, Outputs.ALL_LOW, false, List.of());
  }

  private static Step moving(JigMove next, List<HeadRequest> requests) {
    return new Step(next, Outputs.high(OutputLine.JIG_ENABLE), true, requests);
  }

  private int position(View view) {
    return view.status().map(status -> status.frame().positionMicroMetres()).orElse(0);
  }

  private static boolean newLine(View view) {
    return view.frames().stream()
        .anyMatch(received -> received.frame() instanceof HeadFrame.Status);
  }

  private static boolean has(View view, HeadFlag flag) {
    return view.status().isPresent() && view.status().get().frame().has(flag);
  }

  /** Whether the jig stands proven at its park position with its driver off. */
  public static boolean parked(JigConfig jig, View view) {
    return !view.driven().isHigh(OutputLine.JIG_ENABLE)
        && has(view, HeadFlag.HOMED)
        && has(view, HeadFlag.JIG_HOME)
        && has(view, HeadFlag.JIG_FAR)
        && view.status()
            .map(
                status ->
                    Math.abs(
                            status.frame().positionMicroMetres() - jig.screw().park().microMetres())
                        <= 2 * THERE_MICRO_METRES)
            .orElse(false);
  }
}
