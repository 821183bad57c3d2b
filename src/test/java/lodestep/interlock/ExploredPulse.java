package lodestep.interlock;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.CoilConfig;
import lodestep.device.ActResult;
import lodestep.device.ActStep;
import lodestep.device.Order;
import lodestep.device.Outcome;
import lodestep.device.Pulse;
import lodestep.device.PulseState;
import lodestep.device.ShotPlan;
import lodestep.port.LedgerState;
import lodestep.port.OutputLine;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/**
 * The real sequence of a pulse with the real interlocks on the drawn rig. In each scan a person may
 * order a pulse, north or south, the disk may be slow, and parts may do other than they should. As
 * the job does, a trip cuts the pulse, and the next is ordered only when nothing stands open.
 */
final class ExploredPulse implements Explorer.Machine<ExploredPulse.Place> {

  /**
   * The rig and the pulse under way.
   *
   * @param act the pulse; empty while none is ordered
   * @param tokenDue whether the head has a token to send
   * @param gates how often the gate rose in this pulse, up to 2
   * @param passed whether current passed through the gate in it
   */
  record Place(
      ExploredPlace rig, Optional<PulseState> act, boolean tokenDue, int gates, boolean passed) {}

  /** What may be chosen in a scan besides the deviations. */
  private enum Choice {
    NOTHING,
    ORDER_NORTH,
    ORDER_SOUTH,
    DISK_SLOW
  }

  private static final Choice[] CHOICES = Choice.values();

  /** A pulse on a sound rig takes eight from the hold to the gate. */
  private static final long PULSE_SCANS = 12;

  private static final long INTENT = 7;
  private static final int TOKEN = 3;
  private static final CoilConfig COIL =
      new CoilConfig("coil", 0.6, 2e-3, 5_000, 4, 300, 2, Temperature.ofDegC(70));

  /** Bound of LIV-1: ready so long after the reset. */
  private static final long READY_NS = 10_000 * ExploredRig.MS;

  private static final long LID = Deviation.LID_A_OPEN.bit() | Deviation.LID_B_OPEN.bit();

  private final ExploredRig rig;
  private final List<Deviation> deviations;

  ExploredPulse(long scanMs, List<Deviation> deviations) {
    this.rig =
        new ExploredRig(scanMs, PULSE_SCANS * scanMs, deviations, List.of(ExploredJob.NOTHING));
    this.deviations = List.copyOf(deviations);
  }

  @Override
  public Place powerOn() {
    return new Place(rig.powerOn(), Optional.empty(), false, 0, false);
  }

  @Override
  public int choices() {
    return CHOICES.length << deviations.size();
  }

  @Override
  public String words(int choice) {
    return CHOICES[choice >> deviations.size()] + "; " + rig.words(deviating(choice));
  }

  private int deviating(int choice) {
    return choice & (1 << deviations.size()) - 1;
  }

  @Override
  public Explorer.Step<Place> step(Place place, int choice) {
    return step(place, CHOICES[choice >> deviations.size()], rig.deviating(deviating(choice)));
  }

  /**
   * Why the rig does not come to work again from here, with everything mended: the lid opened and
   * closed, the key turned off and on, a pulse ordered. Empty if it does.
   */
  Optional<String> stuck(Place from) {
    Place place = run(from, 1, Choice.NOTHING, LID);
    place = run(place, 3, Choice.NOTHING, 0);
    place = run(place, 3, Choice.NOTHING, Deviation.KEY_OFF.bit());
    place = run(place, 3, Choice.NOTHING, 0);
    long scans = READY_NS / rig.scanNs();
    for (long i = 0; i < scans && !ready(place); i++) {
      place = run(place, 1, Choice.NOTHING, 0);
    }
    if (!ready(place)) {
      return Optional.of("LIV-1: not ready, " + place.rig().interlocks().trip());
    }
    place = run(place, 1, Choice.ORDER_NORTH, 0);
    boolean passed = false;
    for (long i = 0; i < scans && place.act().isPresent(); i++) {
      passed |= place.passed();
      place = run(place, 1, Choice.NOTHING, 0);
    }
    return passed ? Optional.empty() : Optional.of("LIV-2: the pulse ordered did not come");
  }

  private static boolean ready(Place place) {
    return place.act().isEmpty()
        && Permissive.of(place.rig().interlocks().row()).permit()
        && place.rig().rig().bank() == 0;
  }

  private Place run(Place from, int scans, Choice choice, long wrong) {
    Place place = from;
    for (int i = 0; i < scans; i++) {
      place = step(place, choice, wrong).next();
    }
    return place;
  }

  private Explorer.Step<Place> step(Place place, Choice choice, long wrong) {
    Working working = new Working(place, choice, wrong);
    Explorer.Step<ExploredPlace> rigStep = rig.step(place.rig(), working, wrong);
    ExploredPlace after = rigStep.next();
    boolean rose = fire(after) && !fire(place.rig());
    boolean passes = after.rig().reportDue() && !Deviation.NOT_FIRED.in(wrong);
    int gates = Math.min(2, (working.begun ? 0 : place.gates()) + (rose ? 1 : 0));
    boolean passed = passes || (!working.begun && place.passed());
    Place next = new Place(after, working.next, working.tokenAsked, gates, passed);
    Optional<String> broken =
        rigStep.broken().or(() -> working.broken).or(() -> broken(next, working));
    return new Explorer.Step<>(working.ended() ? rested(next) : next, broken);
  }

  /** A pulse that is over is on record; what was its own is no longer of interest. */
  private static Place rested(Place place) {
    return new Place(place.rig(), Optional.empty(), false, 0, false);
  }

  private static boolean fire(ExploredPlace place) {
    return place.driven().isHigh(OutputLine.COIL_FIRE);
  }

  private static Optional<String> broken(Place next, Working working) {
    if (next.gates() > 1) {
      return Optional.of("INV-03: the gate rose twice for one intent");
    }
    if (fire(next.rig()) && !working.granted) {
      return Optional.of("INV-03: the gate rose without a token");
    }
    return Optional.empty();
  }

  @Override
  public void describe(Place place, Fingerprint to) {
    rig.describe(place.rig(), to);
    to.put(place.tokenDue()).put(place.gates()).put(place.passed()).put(place.act().isPresent());
    AgesOf ages = new AgesOf(place.rig().nowNs(), rig, place.rig().rig().boot(), to);
    place.act().ifPresent(ages::put);
  }

  /** One scan of the work. */
  private final class Working implements ExploredRig.Work {

    private final Place place;
    private final Choice choice;
    private final long wrong;
    private Optional<PulseState> next = Optional.empty();
    private Optional<String> broken = Optional.empty();
    private boolean begun;
    private boolean granted;
    private boolean tokenAsked;
    private boolean ended;

    Working(Place place, Choice choice, long wrong) {
      this.place = place;
      this.choice = choice;
      this.wrong = wrong;
    }

    boolean ended() {
      return ended;
    }

    @Override
    public ExploredJob wants(InterlockInputs in, InterlockStep judged) {
      boolean tripped = judged.next().trip().isPresent();
      if (tripped) {
        place.act().ifPresent(act -> end(act.cut("a trip")));
        return ExploredJob.NOTHING;
      }
      Optional<PulseState> act = place.act().or(() -> ordered(in));
      if (act.isEmpty()) {
        return ExploredJob.NOTHING;
      }
      ActStep step = act.get().step(view(in, judged));
      step.next()
          .result()
          .ifPresentOrElse(this::end, () -> next = Optional.of((PulseState) step.next()));
      boolean window = asks(step, HeadRequest.OpenWindow.class);
      tokenAsked = asks(step, HeadRequest.AskToken.class);
      granted = holdsToken((PulseState) step.next());
      if (window && !granted) {
        broken = Optional.of("INV-03: the window asked for without a token");
      }
      boolean wantsWindow = window || (place.rig().rig().windowAsked() && next.isPresent());
      return new ExploredJob(step.wanted(), step.permit(), wantsWindow);
    }

    private static boolean asks(ActStep step, Class<? extends HeadRequest> kind) {
      return step.requests().stream().anyMatch(kind::isInstance);
    }

    private static boolean holdsToken(PulseState act) {
      return act instanceof PulseState.Meet
          || act instanceof PulseState.AwaitWindow
          || act instanceof PulseState.Fire;
    }

    private Optional<PulseState> ordered(InterlockInputs in) {
      if (choice != Choice.ORDER_NORTH && choice != Choice.ORDER_SOUTH) {
        return Optional.empty();
      }
      begun = true;
      Pulse pulse =
          new Pulse(choice == Choice.ORDER_NORTH, false, new Voltage(47), new Voltage(50));
      Order order = new Order(1, 1, 1, "charge", pulse.drivesNorth(), new FieldStrength(100e3));
      return Optional.of(
          PulseState.begin(
              new ShotPlan(order, pulse, INTENT, 10, COIL, ExploredRig.BANK, rig.limits()),
              in.nowNs()));
    }

    /** The record may not say more than what was. */
    private void end(ActResult result) {
      ended = true;
      boolean fired = place.passed();
      if (result.outcome() == Outcome.DELIVERED && !fired) {
        broken = Optional.of("INV-17: on record as delivered, and nothing passed the gate");
      }
      if (result.outcome() == Outcome.NOT_FIRED && fired && !Deviation.NOT_FIRED.in(wrong)) {
        broken = Optional.of("INV-17: on record as not fired, and current passed the gate");
      }
    }

    private View view(InterlockInputs in, InterlockStep judged) {
      List<ReceivedFrame> frames = new ArrayList<>(in.frames());
      if (place.tokenDue() && in.link().open()) {
        frames.add(
            new ReceivedFrame(
                new HeadFrame.TokenGrant(place.rig().rig().boot(), TOKEN, INTENT), in.nowNs()));
      }
      boolean durable = choice != Choice.DISK_SLOW;
      return new View(
          in.nowNs(),
          Instant.EPOCH,
          in.contacts(),
          frames,
          in.status(),
          in.link(),
          in.readBack(),
          judged.permission().allowed(),
          judged.next().row().met(Condition.BANK_PROVEN),
          judged.next().trip(),
          INTENT + 1,
          new LedgerState(durable ? INTENT : 0, in.ledger().fault()),
          List.of(),
          Optional.empty());
    }
  }
}
