package lodestep.soak;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.sim.RelayName;

/**
 * What can happen to a rig in a soak run: its parts break, persons act, the computer dies. Words
 * and arguments stand in saved runs and are never given a second meaning.
 */
public enum HappeningKind {
  /** A relay's armature stays pulled in. */
  RELAY_PULLED("relay stuck pulled in", Sort.FAULT, On.RELAYS),
  /** A relay's armature stays released. */
  RELAY_RELEASED("relay stuck released", Sort.FAULT, On.RELAYS),
  /** A relay's make contact does not open again. */
  RELAY_WELDED("relay welded", Sort.FAULT, On.RELAYS),
  /** A contact is stuck closed for host, head and chain. */
  CONTACT_CLOSED("contact stuck closed", Sort.FAULT, On.INPUTS),
  /** A contact is stuck open for host, head and chain. */
  CONTACT_OPEN("contact stuck open", Sort.FAULT, On.INPUTS),
  /** The host reads open. */
  HOST_WIRE("wire to the host broken", Sort.FAULT, On.INPUTS),
  /** The head reads open. */
  HEAD_WIRE("wire to the head broken", Sort.FAULT, On.HEAD_INPUTS),
  /** Interference turns the host's input over. */
  INPUT_FLIPPED("input turned over", Sort.FAULT, On.INPUTS),
  /** Each pulse turns one of the host's inputs over for some milliseconds. */
  PULSE_NOISE("noise at each pulse", Sort.FAULT, On.NOTHING, Part.COIL),
  /** An output stays high and reads back so. */
  OUTPUT_HIGH("output stuck high", Sort.FAULT, On.OUTPUTS),
  /** An output stays low and reads back so. */
  OUTPUT_LOW("output stuck low", Sort.FAULT, On.OUTPUTS),
  /** The head's lines do not get out. */
  HEAD_SILENT("head silent", Sort.FAULT, On.NOTHING),
  /** The head's program hangs until its watchdog resets it. */
  HEAD_HUNG("head hung", Sort.FAULT, On.NOTHING),
  /** The head has no supply. */
  HEAD_DOWN("head without supply", Sort.FAULT, On.NOTHING),
  /** Nothing passes between host and head. */
  CABLE_PULLED("cable pulled", Sort.FAULT, On.NOTHING),
  /** This part of the head's lines arrives damaged. */
  LINES_DAMAGED("lines damaged", Sort.FAULT, On.NOTHING, 0.02, 0.9),
  /** The Hall converter stands still. */
  GAUGE_FROZEN("gauge frozen", Sort.FAULT, On.NOTHING),
  /** The coil's sensor is open, shorted or frozen. */
  COIL_SENSOR("coil sensor", Sort.FAULT, On.SENSOR_WAYS),
  /** The head measures this many times the bank's voltage. */
  BANK_SENSE("bank sense", Sort.FAULT, On.NOTHING, Part.COIL, 0.01, 1.2),
  /** The bank leaks through this many ohms. */
  BANK_LEAK("bank leak", Sort.FAULT, On.NOTHING, Part.BANK, 20, 2000),
  /** The supply gives this many volts. */
  SUPPLY_WRONG("supply voltage", Sort.FAULT, On.NOTHING, Part.COIL, 1, 60),
  /** The bleed resistor or its wire is broken. */
  BLEED_OPEN("bleed path open", Sort.FAULT, On.NOTHING, Part.BANK),
  /** This part of the bank's capacitance is left. */
  CAPACITANCE_LOST("capacitance left", Sort.FAULT, On.NOTHING, Part.BANK, 0.5, 0.97),
  /** This part of the coil's inductance is left. */
  TURNS_SHORTED("inductance left", Sort.FAULT, On.NOTHING, Part.COIL, 0.3, 0.97),
  /** The switch conducts whatever its gate says. */
  SWITCH_SHORTED("switch shorted", Sort.FAULT, On.NOTHING, Part.COIL),
  /** The switch or the coil never conducts. */
  SWITCH_OPEN("switch open", Sort.FAULT, On.NOTHING, Part.COIL),
  /** The freewheel diode is broken off. */
  DIODE_MISSING("diode missing", Sort.FAULT, On.NOTHING, Part.COIL),
  /** The coil's thermostat is open. */
  THERMOSTAT_OPEN("thermostat open", Sort.FAULT, On.NOTHING, Part.COIL),
  /** The host's computer is too busy for any scan. */
  HOST_PAUSED("host paused", Sort.FAULT, On.NOTHING),
  /** Somebody opens the lid and shuts it again. */
  LID_OPENED("lid opened", Sort.PERSON, On.NOTHING),
  /** Somebody lifts the lid as far as its second contact. */
  LID_LIFTED("lid lifted", Sort.PERSON, On.NOTHING),
  /** Somebody presses the stop device, and releases it. */
  STOP_PRESSED("stop device pressed", Sort.PERSON, On.NOTHING),
  /** Somebody turns the arm key off, and on again. */
  KEY_OFF("key turned off", Sort.PERSON, On.NOTHING),
  /** Somebody steps on the pedal again and again. */
  PEDAL_MASHED("pedal mashed", Sort.PERSON, On.NOTHING),
  /** Nobody is at the bench. */
  WALKED_AWAY("walked away", Sort.PERSON, On.NOTHING),
  /** Somebody presses Stop on the screen. */
  STOP_ASKED("stop asked", Sort.PERSON, On.NOTHING),
  /** Somebody turns the key and says "go on" without looking. */
  RESET_BLINDLY("reset blindly", Sort.PERSON, On.NOTHING),
  /** Somebody opens the lid, takes the magnet out, puts it back and shuts the lid. */
  MAGNET_TAKEN("magnet taken", Sort.PERSON, On.NOTHING),
  /** The program is killed, and started again by a person. */
  HOST_KILLED("host killed", Sort.COMPUTER, On.LEVELS),
  /** The program is asked to end, and started again by a person. */
  HOST_ENDED("host ended in order", Sort.COMPUTER, On.NOTHING),
  /** Computer, head and supply lose power, and get it back. */
  POWER_CUT("power cut", Sort.COMPUTER, On.NOTHING),
  /** Somebody sets the wall clock by this many seconds. */
  CLOCK_SET("wall clock set", Sort.COMPUTER, On.NOTHING, 1, 40_000_000),
  /** The disk is full. */
  DISK_FULL("disk full", Sort.COMPUTER, On.NOTHING),
  /** The disk reports an error. */
  DISK_ERROR("disk error", Sort.COMPUTER, On.NOTHING),
  /** The disk does not answer for a time. */
  DISK_STALLED("disk stalled", Sort.COMPUTER, On.NOTHING),
  /** A limit switch of the jig stays closed. */
  LIMIT_CLOSED("limit switch stuck closed", Sort.FAULT, On.LIMITS, Part.JIG),
  /** A limit switch of the jig stays open, or its wire is broken. */
  LIMIT_OPEN("limit switch open", Sort.FAULT, On.LIMITS, Part.JIG),
  /** A limit switch of the jig opens and closes again and again. */
  LIMIT_FLICKERS("limit switch flickers", Sort.FAULT, On.LIMITS, Part.JIG),
  /** The carriage does not move, whatever steps the head makes. */
  JIG_JAMMED("jig jammed", Sort.FAULT, On.NOTHING, Part.JIG),
  /** The motor loses this part of its steps. */
  STEPS_LOST("steps lost", Sort.FAULT, On.NOTHING, Part.JIG, 0.001, 0.5),
  /** The motor turns the other way round. */
  MOTOR_REVERSED("motor reversed", Sort.FAULT, On.NOTHING, Part.JIG),
  /** The jig's driver goes on by itself for as long as it is fed. */
  DRIVER_RUNS_ON("driver runs on", Sort.FAULT, On.NOTHING, Part.JIG),
  /** The opposing magnet comes off the carriage. */
  OPPOSING_LOST("opposing magnet lost", Sort.FAULT, On.NOTHING, Part.JIG),
  /** The hardware timer does not end a switched coil's pulse. */
  TIMER_DEAD("gate timer dead", Sort.FAULT, On.NOTHING, Part.SUPPLY),
  /** What the winder is asked to charge she puts back as it was. */
  CHARGE_FORGOTTEN("charging by hand left undone", Sort.PERSON, On.NOTHING, Part.JAWS),
  /** Another program on the same port asks the head for this. */
  STRANGER("another program asks the head", Sort.COMPUTER, On.ASKED, Part.JIG_OR_SUPPLY);

  /** Who or what makes it happen. */
  public enum Sort {
    /** A part of the rig, as in {@link lodestep.sim.Fault}. */
    FAULT,
    /** A person at the bench. */
    PERSON,
    /** The computer, its disk, or the mains. */
    COMPUTER
  }

  /** What it can happen to. */
  private static final class On {
    static final List<String> NOTHING = List.of("");
    static final List<String> RELAYS = words(RelayName.values());
    static final List<String> INPUTS = words(InputLine.values());
    static final List<String> HEAD_INPUTS =
        INPUTS.stream()
            .filter(line -> !List.of("arm key", "start pedal", "work seat").contains(line))
            .toList();
    static final List<String> OUTPUTS =
        words(
            OutputLine.BANK_FILL,
            OutputLine.BANK_HOLD,
            OutputLine.COIL_REVERSE,
            OutputLine.COIL_FULL,
            OutputLine.COIL_FIRE,
            OutputLine.JIG_ENABLE,
            OutputLine.COIL_ON,
            OutputLine.LADDER_1,
            OutputLine.LADDER_2,
            OutputLine.LADDER_3,
            OutputLine.LADDER_4,
            OutputLine.LADDER_5,
            OutputLine.LADDER_6,
            OutputLine.LADDER_7,
            OutputLine.LADDER_8);
    static final List<String> SENSOR_WAYS = List.of("open", "shorted", "frozen");
    static final List<String> LEVELS = List.of("levels stay", "levels fall");
    static final List<String> LIMITS = List.of("home", "far");
    static final List<String> ASKED = List.of("to be served", "to let go", "a token", "a move");

    private static List<String> words(Enum<?>... names) {
      return Arrays.stream(names).map(HappeningKind::word).toList();
    }
  }

  /** No kind has more to happen to than this. */
  static final int ON_MAX = 16;

  private final String words;
  private final Sort sort;

  @SuppressWarnings("ImmutableEnumChecker") // made by List.copyOf
  private final List<String> on;

  private final Part part;
  private final double lowest;
  private final double highest;

  HappeningKind(String words, Sort sort, List<String> on) {
    this(words, sort, on, Part.NONE);
  }

  HappeningKind(String words, Sort sort, List<String> on, double lowest, double highest) {
    this(words, sort, on, Part.NONE, lowest, highest);
  }

  HappeningKind(String words, Sort sort, List<String> on, Part part) {
    this(words, sort, on, part, 0, 0);
  }

  HappeningKind(
      String words, Sort sort, List<String> on, Part part, double lowest, double highest) {
    this.words = words;
    this.sort = sort;
    this.on = on;
    this.part = part;
    this.lowest = lowest;
    this.highest = highest;
  }

  static String word(Enum<?> name) {
    return name.name().toLowerCase(Locale.ROOT).replace('_', ' ');
  }

  /** The kind with these words, if there is one. */
  public static Optional<HappeningKind> of(String words) {
    return Arrays.stream(values()).filter(kind -> kind.words.equals(words)).findFirst();
  }

  /** As it stands in saved runs. */
  public String words() {
    return words;
  }

  /** Who or what makes it happen. */
  public Sort sort() {
    return sort;
  }

  /**
   * What it can happen to, at most {@link #ON_MAX}; the empty word alone when there is no choice.
   */
  List<String> on() {
    return on;
  }

  /** What a rig must have for it to happen. */
  Part part() {
    return part;
  }

  /** Whether it has a figure. */
  boolean hasValue() {
    return highest > 0;
  }

  /** Lowest figure; 0 when it has none. */
  double lowest() {
    return lowest;
  }

  /** Highest figure; 0 when it has none. */
  double highest() {
    return highest;
  }
}
