package lodestep.interlock;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.CoilConfig;
import lodestep.device.ActResult;
import lodestep.device.ActStep;
import lodestep.device.FeedState;
import lodestep.device.Order;
import lodestep.device.Outcome;
import lodestep.device.Pulse;
import lodestep.device.PulsePlan;
import lodestep.device.PulseState;
import lodestep.device.ShotPlan;
import lodestep.device.SwitchedPlan;
import lodestep.port.InputLine;
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
final class ExploredPulse implements ExploredMending.Mended<ExploredPulse.Place> {

  /**
   * The rig and the pulse under way.
   *
   * @param act the pulse; empty while none is ordered
   * @param tokenDue whether the head has a token to send
   * @param gates how often the gate rose in this pulse, up to 2
   * @param passed whether current passed through the gate in it
   * @param shown whether a switched coil has been seen dead with its feed on in it
   */
  record Place(
      ExploredPlace rig,
      Optional<PulseState> act,
      boolean tokenDue,
      int gates,
      boolean passed,
      boolean shown) {

    /** With nothing under way. */
    static Place resting(ExploredPlace rig) {
      return new Place(rig, Optional.empty(), false, 0, false, false);
    }
  }

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

  private static final long INTENT = ExploredView.INTENT;
  private static final int TOKEN = 3;
  private static final CoilConfig COIL =
      new CoilConfig("coil", 0.6, 2e-3, 5_000, 4, 300, 2, Temperature.ofDegC(70));

  private final ExploredRig rig;
  private final List<Deviation> deviations;

  ExploredPulse(ExploredKind kind, long scanMs, List<Deviation> deviations) {
    this(kind, scanMs, deviations, ExploredRig.logic(kind, PULSE_SCANS * scanMs)::step);
  }

  ExploredPulse(
      ExploredKind kind,
      long scanMs,
      List<Deviation> deviations,
      ExploredRig.Interlocks interlocks) {
    this.rig =
        new ExploredRig(
            kind,
            scanMs,
            PULSE_SCANS * scanMs,
            deviations,
            List.of(ExploredJob.NOTHING),
            interlocks);
    this.deviations = List.copyOf(deviations);
  }

  @Override
  public Place powerOn() {
    return Place.resting(rig.powerOn());
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

  @Override
  public Place rest(Place place, long hand) {
    return step(place, Choice.NOTHING, hand).next();
  }

  @Override
  public Place prepare(Place place) {
    return rest(place, 0);
  }

  @Override
  public Place order(Place place) {
    return step(place, Choice.ORDER_NORTH, 0).next();
  }

  @Override
  public boolean ready(Place place) {
    return place.act().isEmpty()
        && Permissive.of(place.rig().interlocks().row()).permit()
        && place.rig().rig().bank() == 0;
  }

  @Override
  public boolean busy(Place place) {
    return place.act().isPresent();
  }

  @Override
  public boolean worked(Place place) {
    return place.passed();
  }

  @Override
  public boolean hidden(Place place) {
    return false;
  }

  @Override
  public Optional<String> trip(Place place) {
    return place.rig().interlocks().trip().map(trip -> trip.cause().name());
  }

  private Explorer.Step<Place> step(Place place, Choice choice, long wrong) {
    Working working = new Working(place, choice, wrong);
    Explorer.Step<ExploredPlace> rigStep = rig.step(place.rig(), working, wrong);
    ExploredPlace after = rigStep.next();
    boolean rose = fire(after) && !fire(place.rig());
    int gates = Math.min(2, (working.begun ? 0 : place.gates()) + (rose ? 1 : 0));
    boolean passed = after.rig().passing() || (!working.begun && place.passed());
    boolean shown = working.dead || (!working.begun && place.shown());
    Place next = new Place(after, working.next, working.tokenAsked, gates, passed, shown);
    Optional<String> broken =
        rigStep.broken().or(() -> working.broken).or(() -> broken(next, working));
    return new Explorer.Step<>(working.ended() ? rested(next) : next, broken);
  }

  /** A pulse that is over is on record; what was its own is no longer of interest. */
  private static Place rested(Place place) {
    return Place.resting(place.rig());
  }

  private static boolean fire(ExploredPlace place) {
    return place.driven().isHigh(OutputLine.COIL_FIRE);
  }

  private Optional<String> broken(Place next, Working working) {
    if (next.gates() > 1) {
      return Optional.of("INV-03: the gate rose twice for one intent");
    }
    if (fire(next.rig()) && !working.granted) {
      return Optional.of("INV-03: the gate rose without a token");
    }
    if (fire(next.rig()) && rig.kind().switched() && !next.shown()) {
      return Optional.of("INV-21: the gate rose and the switch was not shown to be open");
    }
    return Optional.empty();
  }

  @Override
  public void describe(Place place, Fingerprint to) {
    rig.describe(place.rig(), to);
    to.put(place.tokenDue()).put(place.gates()).put(place.passed()).put(place.shown());
    to.put(place.act().isPresent());
    AgesOf ages = place.rig().ages(rig, to);
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
    private boolean dead;

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
      dead = act.get() instanceof FeedState.Prove && fedAndDead(in);
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
      return new ExploredJob(step.wanted(), step.permit(), wantsWindow, ExploredCarriage.NOTHING);
    }

    /** Whether a line shows the feed and, with the gate low, no current. */
    private static boolean fedAndDead(InterlockInputs in) {
      return in.driven().isHigh(OutputLine.COIL_ON)
          && !in.driven().isHigh(OutputLine.COIL_FIRE)
          && !in.driven().isHigh(OutputLine.COIL_FULL)
          && !in.contacts().closed(InputLine.BLEED_CONTACT)
          && in.status().isPresent()
          && in.status().get().receivedAtNs() == in.nowNs()
          && Math.abs(in.status().get().frame().coilMilliAmps()) <= 50;
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
      boolean north = choice == Choice.ORDER_NORTH;
      return Optional.of(
          PulseState.begin(rig.kind().switched() ? fromFeed(north) : fromBank(north), in.nowNs()));
    }

    private PulsePlan fromBank(boolean north) {
      Pulse pulse = new Pulse(north, false, new Voltage(47), new Voltage(50));
      return new ShotPlan(
          order("charge", north), pulse, INTENT, 10, COIL, ExploredKind.A_BANK, rig.limits());
    }

    /** North it charges, south it knocks down. */
    private PulsePlan fromFeed(boolean north) {
      int level = north ? 0 : ExploredKind.LEVEL;
      double ohms = ExploredKind.A_COIL.ohmsAt(Temperature.ofDegC(25));
      double amps =
          north ? ExploredKind.A_SUPPLY.fullAmps(ohms) : ExploredKind.A_SUPPLY.amps(level, ohms);
      return new SwitchedPlan(
          order(north ? "charge" : "knock-down", north),
          level,
          ExploredKind.PROOF_LEVEL,
          INTENT,
          amps,
          ExploredKind.A_COIL,
          ExploredKind.A_SUPPLY,
          rig.limits());
    }

    private static Order order(String purpose, boolean north) {
      return new Order(1, 1, 1, purpose, north, new FieldStrength(100e3));
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
      return ExploredView.of(in, judged, frames, choice != Choice.DISK_SLOW);
    }
  }
}
