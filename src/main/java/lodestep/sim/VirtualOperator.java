package lodestep.sim;

import java.util.List;
import java.util.SplittableRandom;
import java.util.function.Consumer;
import java.util.function.Supplier;
import lodestep.port.Command;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.OutputLine;

/**
 * Stands for the winder: loads magnets in the order given, closes the lid, presses the pedal, and
 * otherwise keeps hands off. She goes by lamps and buzzer alone and knows nothing of the program;
 * how long she takes for each act is drawn from her seed. Confined to the rig's thread.
 *
 * <p>A trip is the buzzer with every lamp dark: she waits a little, turns the key off and on, says
 * "continue", opens and closes the lid and presses the pedal for the same magnet. When the trip
 * stands after {@link #KEY_TURNS_MAX} tries, she gives up and calls for help.
 *
 * <p>With every lamp dark and no buzzer the program is gone: she takes the magnet out, and begins
 * with it again once the lamps tell that the rig is ready.
 */
public final class VirtualOperator {

  /** Tries at clearing one trip before she gives up. */
  public static final int KEY_TURNS_MAX = 5;

  /** Two neodymium blocks on a steel yoke; configuration. */
  public static final double JAWS_AMPERES_PER_METRE = 480e3;

  private static final long NS_PER_MS = 1_000_000L;

  /** With "ready" still lit this long after pressing, the press has not been taken. */
  private static final long PATIENCE_NS = 4_000L * NS_PER_MS;

  /** With nothing lit this long while a magnet is at work, nobody works at it. */
  private static final long DARK_NS = 10_000L * NS_PER_MS;

  /** A magnet and the nest it belongs in. */
  public record Piece(SeatedMagnet magnet, String nest) {}

  private enum Phase {
    AWAIT_READY,
    LOAD,
    CLOSE_FIRST_CONTACT,
    CLOSE_SECOND_CONTACT,
    KEY_ON,
    PRESS,
    LET_PEDAL_GO,
    WATCH,
    OPEN_SECOND_CONTACT,
    OPEN_FIRST_CONTACT,
    UNLOAD,
    KEY_OFF_AFTER_TRIP,
    KEY_ON_AFTER_TRIP,
    SAY_CONTINUE,
    LOOK_AFTER_TRIP,
    DONE,
    GAVE_UP
  }

  private final Controls controls;
  private final Plant plant;
  private final List<Piece> pieces;
  private final Consumer<Command> commands;
  private final SplittableRandom random;
  private final Supplier<HandCue> cues;

  private Phase phase = Phase.AWAIT_READY;
  private long actAtNs;
  private int next;
  private int keyTurns;
  private long patienceUntilNs;
  private boolean verdictLitBefore;
  private boolean seenBusy;
  private boolean reloading;

  private boolean dark;
  private long darkFromNs;

  /** Whether the magnet comes out because nobody works at it any more, or the nest is needed. */
  private boolean forsaken;

  /** Whether the lid is being closed over an empty nest, because that is asked. */
  private boolean bare;

  /** Whether the magnet comes out to be charged between the jaws. */
  private boolean recharging;

  /** One who is told nothing and goes by lamps and buzzer alone. */
  public VirtualOperator(
      VirtualRig rig, List<Piece> pieces, Consumer<Command> commands, long seed) {
    this(rig, pieces, commands, () -> HandCue.of(HandAsk.WAIT), seed);
  }

  /**
   * @param pieces what she puts into the nest, in the order of the plan
   * @param commands where she says "continue"
   * @param cues what the program asks of her now, where lamps do not tell
   * @param seed of her pauses and of how each magnet lies
   */
  public VirtualOperator(
      VirtualRig rig,
      List<Piece> pieces,
      Consumer<Command> commands,
      Supplier<HandCue> cues,
      long seed) {
    this.cues = cues;
    this.controls = rig.controls();
    this.plant = rig.plant();
    this.pieces = List.copyOf(pieces);
    this.commands = commands;
    this.random = new SplittableRandom(seed);
    this.actAtNs = rig.clock().nowNs();
  }

  /** Whether every magnet has had its verdict and is out of the nest. */
  public boolean done() {
    return phase == Phase.DONE;
  }

  /** Whether a trip did not go away and she has called for help. */
  public boolean gaveUp() {
    return phase == Phase.GAVE_UP;
  }

  /** How many magnets have had their verdict and are out of the nest. */
  public int unloaded() {
    return next;
  }

  /** She looks, and acts when she is ready to; called every millisecond. */
  public void step(long nowNs) {
    if (nowNs - actAtNs < 0) {
      return;
    }
    actAtNs = nowNs;
    phase =
        switch (phase) {
          case AWAIT_READY -> awaitReady();
          case LOAD -> load();
          case CLOSE_FIRST_CONTACT -> closeFirstContact();
          case CLOSE_SECOND_CONTACT -> closeSecondContact();
          case KEY_ON -> keyOn();
          case PRESS -> press();
          case LET_PEDAL_GO -> letPedalGo(nowNs);
          case WATCH -> watch(nowNs);
          case OPEN_SECOND_CONTACT -> openSecondContact();
          case OPEN_FIRST_CONTACT -> openFirstContact();
          case UNLOAD -> unload();
          case KEY_OFF_AFTER_TRIP -> keyOffAfterTrip();
          case KEY_ON_AFTER_TRIP -> keyOnAfterTrip();
          case SAY_CONTINUE -> sayContinue();
          case LOOK_AFTER_TRIP -> lookAfterTrip();
          case DONE, GAVE_UP -> phase;
        };
  }

  private void pause(int fromMs, int toMs) {
    actAtNs += (fromMs + random.nextInt(toMs - fromMs + 1)) * NS_PER_MS;
  }

  private boolean lit(OutputLine lamp) {
    return controls.shows(lamp);
  }

  private boolean verdictLit() {
    return lit(OutputLine.LAMP_ACCEPT) || lit(OutputLine.LAMP_REFUSE);
  }

  private boolean tripped() {
    return lit(OutputLine.BUZZER)
        && !verdictLit()
        && !lit(OutputLine.LAMP_READY)
        && !lit(OutputLine.LAMP_BUSY);
  }

  private Phase seeTrip() {
    keyTurns = 0;
    pause(1000, 3000);
    return Phase.KEY_OFF_AFTER_TRIP;
  }

  private Phase awaitReady() {
    if (next == pieces.size()) {
      return Phase.DONE;
    }
    if (tripped()) {
      return seeTrip();
    }
    if (!lit(OutputLine.LAMP_READY)) {
      pause(50, 150);
      return Phase.AWAIT_READY;
    }
    if (asked(HandAsk.LEAVE_EMPTY)) {
      bare = true;
      pause(600, 1500);
      return Phase.CLOSE_FIRST_CONTACT;
    }
    if (!plant.nestName().equals(pieces.get(next).nest())) {
      plant.mount(pieces.get(next).nest());
      pause(15_000, 30_000);
      return Phase.AWAIT_READY;
    }
    // The gauge takes its zero while the nest is empty and nobody moves.
    pause(1200, 2500);
    return Phase.LOAD;
  }

  private Phase load() {
    if (!lit(OutputLine.LAMP_READY)) {
      return Phase.AWAIT_READY;
    }
    chargeIfAsked();
    controls.seat(pieces.get(next).magnet(), random);
    pause(400, 1200);
    return Phase.CLOSE_FIRST_CONTACT;
  }

  private boolean asked(HandAsk ask) {
    return cues.get().ask() == ask;
  }

  private boolean askedToCharge() {
    return asked(HandAsk.CHARGE_NORTH) || asked(HandAsk.CHARGE_SOUTH);
  }

  /** Between the jaws, which give what two strong magnets with a gap of a rod's length give. */
  private void chargeIfAsked() {
    if (askedToCharge()) {
      boolean north = asked(HandAsk.CHARGE_NORTH);
      pieces
          .get(next)
          .magnet()
          .applyPulse(
              north ? JAWS_AMPERES_PER_METRE : 0, north ? 0 : JAWS_AMPERES_PER_METRE, north);
      pause(2000, 5000);
    }
  }

  private Phase closeFirstContact() {
    controls.lidContactA(true);
    pause(2, 12);
    return Phase.CLOSE_SECOND_CONTACT;
  }

  private Phase closeSecondContact() {
    controls.lidContactB(true);
    pause(300, 900);
    return Phase.KEY_ON;
  }

  private Phase keyOn() {
    if (!controls.armKeyOn()) {
      controls.armKey(true);
      pause(200, 700);
    }
    return Phase.PRESS;
  }

  private Phase press() {
    if (tripped()) {
      return seeTrip();
    }
    verdictLitBefore = verdictLit();
    seenBusy = false;
    controls.pedal(true);
    pause(100, 300);
    return Phase.LET_PEDAL_GO;
  }

  private Phase letPedalGo(long nowNs) {
    controls.pedal(false);
    dark = false;
    patienceUntilNs = nowNs + PATIENCE_NS;
    return watch(nowNs);
  }

  private boolean darkTooLong(long nowNs) {
    boolean before = dark;
    dark =
        !(verdictLit()
            || lit(OutputLine.BUZZER)
            || lit(OutputLine.LAMP_READY)
            || lit(OutputLine.LAMP_BUSY));
    darkFromNs = before ? darkFromNs : nowNs;
    return dark && nowNs - darkFromNs > DARK_NS;
  }

  private Phase watch(long nowNs) {
    if (tripped()) {
      return seeTrip();
    }
    if (darkTooLong(nowNs)) {
      dark = false;
      forsaken = true;
      return Phase.OPEN_SECOND_CONTACT;
    }
    if (lit(OutputLine.LAMP_BUSY)) {
      seenBusy = true;
      patienceUntilNs = nowNs + PATIENCE_NS;
      return Phase.WATCH;
    }
    if (bare && !asked(HandAsk.LEAVE_EMPTY)) {
      // The jig is proven: the lid may be opened for the first magnet.
      return Phase.OPEN_SECOND_CONTACT;
    }
    recharging = seenBusy && askedToCharge();
    if (recharging) {
      return Phase.OPEN_SECOND_CONTACT;
    }
    boolean verdict = verdictLit();
    if (verdict && (seenBusy || !verdictLitBefore)) {
      pause(500, 1500);
      reloading = false;
      return Phase.OPEN_SECOND_CONTACT;
    }
    // A lamp left from the magnet before is no verdict on this one.
    verdictLitBefore = verdict;
    if (lit(OutputLine.LAMP_READY) && nowNs - patienceUntilNs >= 0) {
      bare = false;
      forsaken = asked(HandAsk.LEAVE_EMPTY) && controls.seated().isPresent();
      Phase again = asked(HandAsk.LEAVE_EMPTY) ? Phase.AWAIT_READY : Phase.PRESS;
      return forsaken ? Phase.OPEN_SECOND_CONTACT : again;
    }
    return Phase.WATCH;
  }

  private Phase openSecondContact() {
    controls.lidContactB(false);
    pause(2, 12);
    return Phase.OPEN_FIRST_CONTACT;
  }

  private Phase openFirstContact() {
    controls.lidContactA(false);
    pause(400, 1000);
    if (bare) {
      bare = false;
      return Phase.AWAIT_READY;
    }
    if (forsaken) {
      forsaken = false;
      controls.unseat();
      return Phase.AWAIT_READY;
    }
    if (recharging) {
      recharging = false;
      controls.unseat();
      pause(300, 800);
      return Phase.LOAD;
    }
    return reloading ? Phase.CLOSE_FIRST_CONTACT : Phase.UNLOAD;
  }

  private Phase unload() {
    controls.unseat();
    next++;
    pause(200, 600);
    return Phase.AWAIT_READY;
  }

  private Phase keyOffAfterTrip() {
    controls.armKey(false);
    pause(500, 1000);
    return Phase.KEY_ON_AFTER_TRIP;
  }

  private Phase keyOnAfterTrip() {
    controls.armKey(true);
    keyTurns++;
    pause(500, 1000);
    return Phase.SAY_CONTINUE;
  }

  private Phase sayContinue() {
    commands.accept(Command.CONTINUE);
    pause(500, 1000);
    return Phase.LOOK_AFTER_TRIP;
  }

  private Phase lookAfterTrip() {
    if (tripped()) {
      if (keyTurns >= KEY_TURNS_MAX) {
        return Phase.GAVE_UP;
      }
      pause(3000, 8000);
      return Phase.KEY_OFF_AFTER_TRIP;
    }
    if (controls.seated().isEmpty()) {
      return Phase.AWAIT_READY;
    }
    forsaken = asked(HandAsk.LEAVE_EMPTY);
    recharging = askedToCharge();
    reloading = !forsaken && !recharging;
    return Phase.OPEN_SECOND_CONTACT;
  }
}
