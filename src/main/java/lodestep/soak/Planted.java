package lodestep.soak;

import java.util.List;
import lodestep.port.InputLine;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.RelayName;
import lodestep.sim.VirtualRig;

/**
 * A mistake planted in host, ports or rig, which runs must find: a harness that finds nothing
 * proves nothing until it has been seen to find something. Those in the rig are faults of which the
 * rules are not told, so that none is excused. Any thread, immutable.
 */
public enum Planted {
  /** No mistake. */
  NOTHING("nothing"),
  /** A stray write energises the rig although nobody has pressed the pedal. */
  STRAY_HOLD(
      "a stray write raises bank_hold, coil_on or jig_enable", "INV-14b", "INV-14c", "INV-15"),
  /** Each act of a field source is closed a second time. */
  SECOND_OUTCOME("each pulse or stroke is closed twice", "INV-16"),
  /** The disk says that it has synced and has not, and then the program is killed. */
  LOST_ROW("the disk loses what it has acknowledged", "INV-19"),
  /** What was delivered stands on record as not fired. */
  WRONG_OUTCOME("what was delivered is recorded as not fired", "INV-17", "INV-17c"),
  /** A magnet is accepted by the reading of another. */
  WRONG_READING("readings are recorded for another magnet", "INV-17b"),
  /** An intent allows more than the bank may hold. */
  HIGH_INTENT("intents allow 60 V", "INV-12b"),
  /** The gauge reads three per cent too much. */
  WRONG_GAUGE("the gauge reads three per cent too much", "TRUE"),
  /** A trip on record is not taken up by the next program. */
  FORGOTTEN_TRIP("a restart forgets the trip that stands", "INV-20"),
  /** The heartbeat comes from a thread of its own and outlives the scans. */
  BLIND_HEARTBEAT("heartbeats go on when the program is dead", "INV-08"),
  /** A late scan sends its heartbeat all the same. */
  LATE_HEARTBEAT("a late scan sends a heartbeat", "INV-25"),
  /** Each heartbeat asks for the permit, trip or not. */
  ALWAYS_PERMIT("each heartbeat asks for the permit", "INV-14"),
  /** The arm key's input drops for a moment by itself after each trip. */
  SELF_RESET("a trip resets itself", "INV-13"),
  /** "Go on" is said by the program. */
  SELF_CONTINUE("the plan goes on by itself after a trip", "INV-13b"),
  /** The pedal's input is pressed by itself again and again. */
  SELF_START("a magnet is started with no foot on the pedal", "INV-14b"),
  /** A scan throws. */
  THROWS("a scan throws", "INV-25b"),
  /** The lamp "ready" is never lit. */
  NEVER_READY("the lamp 'ready' is never lit", "LIV-1"),
  /** The pedal is not read. */
  DEAD_PEDAL("the pedal is never read", "LIV-2"),
  /** The permit relay welds. */
  PERMIT_WELDED("the permit relay welds", "INV-08"),
  /** The bleed contact closes on nothing. */
  BLEED_BROKEN("the bleed path is open", "INV-10", "LIV-1"),
  /** The switch conducts by itself. */
  SWITCH_SHORTED("the switch conducts by itself", "INV-15"),
  /** The fill relay welds and its mirror contact says that it has not. */
  WELD_UNSEEN("a fill relay welds and its contact says that it has not", "INV-05", "INV-09"),
  /** The changeover lies reversed and its contact says that it does not. */
  REVERSED_UNSEEN("a changeover that lies the wrong way unseen", "INV-01"),
  /** The changeover relay is pulled and let go by something else. */
  CHANGEOVER_FLUTTERS("the changeover moves by itself", "INV-07", "INV-01"),
  /** Nobody sees the lid open again, so that what was proven once counts for ever. */
  STALE_PROOF("a proof outlives the opened lid", "INV-21"),
  /** The supply gives 60 V, and neither can it be cut off nor the bank be bled. */
  OVER_VOLTAGE("a supply of 60 V, and the fill and the bleed relay weld", "INV-12"),
  /** The head's lines come late and are stamped as new. */
  LATE_LINES("the head's lines are 60 ms old and count as new", "INV-02"),
  /** A window is asked for with the token of the pulse before, and the head opens it. */
  OLD_TOKEN("a token is used a second time, and the head takes it", "INV-03"),
  /** The gate is not let go, and the window does not end. */
  GATE_KEPT("the gate is kept for 400 ms, and neither window nor timer ends it", "INV-04"),
  /** The bleed contact is let close while the bank is filled, and nobody sees it. */
  BLEED_IN_FILL("the bleed contact is closed while the bank is filled", "INV-05"),
  /** The bank is filled while it is fired. */
  FILL_IN_FIRE("the bank is filled while the gate is fed", "INV-06"),
  /** The fill relay sticks for a moment again and again. */
  FILL_STICKS("the fill relay lets go up to 15 ms too late", "INV-09"),
  /** What was under way is not forgotten with a trip. */
  KEPT_PLAN("what was driven before a trip is driven again after it", "INV-14", "INV-15"),
  /** Lid, stop loop or chain opens in use, and the gate is raised a little later. */
  LATE_GATE("the gate is raised 50 ms after lid, stop loop or chain has opened", "INV-09b"),
  /** The host takes each row for durable as soon as it is handed over. */
  HASTY_DISK("each row counts as durable at once", "INV-15", "INV-15b"),
  /** A misfire is recorded as delivered. */
  FIRED_NOTHING("the switch never conducts and its misfires are recorded as delivered", "INV-17"),
  /** One row of the record is not what it was. */
  CHANGED_ROW("one row of the record is exchanged while the program is down", "INV-18"),
  /** The head measures a little less than what the bank has. */
  LOW_BANK_SENSE("the bank is measured 1.5 per cent too low", "INV-01"),
  /** The stop loop's input drops out with nobody near it. */
  NERVOUS_STOP("the stop loop's input drops out for 12 ms now and then", "NUI"),
  /** A pulse's peak is recorded too small. */
  WRONG_PEAK("pulses are recorded with a tenth less current", "INV-17d"),
  /** A relay of the ladder is let go, or pulled, under current. */
  LADDER_SLIPS("a relay of the ladder moves while the gate is fed", "INV-07b"),
  /** The level is not the one that was meant. */
  WRONG_LEVEL("another relay of the ladder is pulled too", "INV-01b"),
  /** The feed relay welds and its mirror contact says that it has not. */
  FEED_WELD_UNSEEN("a feed relay welds and its contact says that it has not", "R1", "INV-10"),
  /** The feed is left off while the switch is to be seen blocking it, and its contact says on. */
  SWITCH_UNPROVEN(
      "the feed stays off while the switch is proven and its contact says on", "INV-21b"),
  /** The carriage is sent lower than the stroke says. */
  SENT_LOWER("the head is sent 2 mm lower than the stroke says", "INV-15b"),
  /** The motor turns the wrong way round, and the switch that would tell it is stuck. */
  OTHER_WAY("the motor is reversed and the far switch stuck closed", "INV-22"),
  /** The bank is filled while the jig is away. */
  FILL_AWAY("the bank is filled while the jig moves", "INV-22b"),
  /** The carriage is sent to and fro, and nothing stops it. */
  TO_AND_FRO("the jig is sent to and fro without end", "INV-22c"),
  /** A zero is taken wherever the jig is. */
  ZERO_AWAY("a zero is written down when a stroke is cut short", "INV-22d"),
  /** A stroke is meant to come too near. */
  LOW_INTENT("strokes are meant to come as near as 1 mm", "INV-22e"),
  /** A stroke's place is recorded wrongly. */
  WRONG_PLACE("strokes are recorded 1 mm too low", "INV-17c"),
  /** What was delivered is recorded as never having come down. */
  LOST_PLACE("strokes are recorded 5 mm too high", "INV-17e");

  private static final long NS_PER_MS = 1_000_000L;
  private static final long FROM_NS = VirtualRig.START_NS + 5_000 * NS_PER_MS;

  private final String words;

  @SuppressWarnings("ImmutableEnumChecker") // made by List.of
  private final List<String> rules;

  Planted(String words, String... rules) {
    this.words = words;
    this.rules = List.of(rules);
  }

  /** What is wrong, in words. */
  public String words() {
    return words;
  }

  /** The rules of which one must be seen broken; none when nothing is planted. */
  public List<String> rules() {
    return rules;
  }

  /** These faults, and those that are planted. */
  FaultPlan hiddenIn(FaultPlan plan) {
    return switch (this) {
      case PERMIT_WELDED -> plan.with(new Fault.RelayWelded(RelayName.PERMIT), FROM_NS);
      case BLEED_BROKEN -> plan.with(new Fault.BleedPathOpen(), FROM_NS);
      case SWITCH_SHORTED -> plan.with(new Fault.SwitchShorted(), FROM_NS);
      case WELD_UNSEEN ->
          plan.with(new Fault.RelayWelded(RelayName.FILL), FROM_NS)
              .with(new Fault.ContactStuck(InputLine.FILL_CONTACT, true), FROM_NS);
      case OVER_VOLTAGE ->
          plan.with(new Fault.SupplyWrong(60), FROM_NS)
              .with(new Fault.RelayWelded(RelayName.FILL), FROM_NS)
              .with(new Fault.RelayWelded(RelayName.HOLD), FROM_NS);
      case REVERSED_UNSEEN ->
          plan.with(new Fault.RelayStuck(RelayName.REVERSE, true), FROM_NS)
              .with(new Fault.ContactStuck(InputLine.REVERSE_CONTACT, false), FROM_NS);
      case CHANGEOVER_FLUTTERS ->
          fluttering(plan, new Fault.RelayStuck(RelayName.REVERSE, true), 1_100, 50);
      case FILL_STICKS -> fluttering(plan, new Fault.RelayWelded(RelayName.FILL), 30, 15);
      case GATE_KEPT ->
          plan.with(new Fault.WindowStuck(), FROM_NS).with(new Fault.TimerDead(), FROM_NS);
      case FIRED_NOTHING -> plan.with(new Fault.SwitchOpen(), FROM_NS);
      case LOW_BANK_SENSE -> plan.with(new Fault.BankSense(0.985), FROM_NS);
      case FEED_WELD_UNSEEN ->
          plan.with(new Fault.RelayWelded(RelayName.ON), FROM_NS)
              .with(new Fault.ContactStuck(InputLine.BLEED_CONTACT, true), FROM_NS);
      case OTHER_WAY ->
          plan.with(new Fault.JigReversed(), VirtualRig.START_NS)
              .with(new Fault.JigSwitchStuck(false, true), VirtualRig.START_NS);
      default -> plan;
    };
  }

  private static FaultPlan fluttering(FaultPlan plan, Fault fault, long eachMs, long forMs) {
    FaultPlan more = plan;
    for (long ms = 5_000; ms < 90_000; ms += eachMs) {
      long fromNs = VirtualRig.START_NS + ms * NS_PER_MS;
      more = more.with(fault, fromNs, fromNs + forMs * NS_PER_MS);
    }
    return more;
  }
}
