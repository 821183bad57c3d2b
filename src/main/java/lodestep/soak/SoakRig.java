package lodestep.soak;

import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import lodestep.config.RigConfig;
import lodestep.port.OutputLine;

/**
 * The kinds of rigs that are played. By its parts each knows what can happen to it and in which
 * states its host can be. Words stand in saved runs and are never given a second meaning. Any
 * thread, immutable.
 */
public enum SoakRig {
  /** A pulse coil on a bank. */
  COIL(List.of(Part.BANK, Part.COIL), 90_000, 300_000),
  /** A many-turn coil on a supply. */
  SWITCHED(List.of(Part.COIL, Part.SUPPLY, Part.JIG_OR_SUPPLY), 90_000, 300_000),
  /** A reverse jig; the winder charges by hand. */
  JIG(List.of(Part.JIG, Part.JAWS, Part.JIG_OR_SUPPLY), 240_000, 1_200_000),
  /** A reverse jig; the pulse coil charges. */
  COIL_AND_JIG(List.of(Part.BANK, Part.COIL, Part.JIG, Part.JIG_OR_SUPPLY), 240_000, 1_200_000);

  /** Told apart from whatever else is drawn from a seed. */
  private static final long SALT = 0x2545f4914f6cdd1dL;

  private static final int BANK_OUTPUTS = 5;
  private static final int PERSONS_INPUTS = 6;

  @SuppressWarnings("ImmutableEnumChecker") // made by List.of
  private final List<Part> parts;

  private final long faultyMsMax;
  private final long verdictWithinMs;

  SoakRig(List<Part> parts, long faultyMsMax, long verdictWithinMs) {
    this.parts = parts;
    this.faultyMsMax = faultyMsMax;
    this.verdictWithinMs = verdictWithinMs;
  }

  /**
   * The kind of this rig.
   *
   * @throws IllegalArgumentException if it is of none: a head alone drives nothing
   */
  public static SoakRig of(RigConfig rig) {
    if (rig.hasBank()) {
      return rig.jig().isPresent() ? COIL_AND_JIG : COIL;
    } else if (rig.supply().isPresent() && rig.jig().isEmpty()) {
      return SWITCHED;
    } else if (rig.jig().isPresent() && rig.coils().isEmpty()) {
      return JIG;
    }
    throw new IllegalArgumentException("nothing is driven on the rig '" + rig.name() + "'");
  }

  /** The kind with this word, if there is one. */
  public static Optional<SoakRig> of(String word) {
    return Arrays.stream(values()).filter(rig -> rig.word().equals(word)).findFirst();
  }

  /** As people write it and as it stands in saved runs. */
  public String word() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  /** Which of so many rigs this seed plays, from 0. */
  public static int drawn(int rigs, long seed) {
    return rigs == 1 ? 0 : new SplittableRandom(seed ^ SALT).nextInt(rigs);
  }

  boolean has(Part part) {
    return part == Part.NONE || parts.contains(part);
  }

  /** What can happen to it, in the order in which it is drawn. */
  public List<HappeningKind> kinds() {
    return Arrays.stream(HappeningKind.values()).filter(kind -> has(kind.part())).toList();
  }

  /** States in which its host can be. */
  public Set<RigState> states() {
    Set<RigState> states = EnumSet.noneOf(RigState.class);
    Arrays.stream(RigState.values()).filter(state -> has(state.part())).forEach(states::add);
    return states;
  }

  /** What it can happen to on this rig. */
  List<String> on(HappeningKind kind) {
    List<String> all = kind.on();
    return switch (kind) {
      case RELAY_PULLED, RELAY_RELEASED, RELAY_WELDED -> all.stream().filter(this::relay).toList();
      case CONTACT_CLOSED, CONTACT_OPEN, HOST_WIRE, HEAD_WIRE, INPUT_FLIPPED ->
          all.stream().filter(this::input).toList();
      case OUTPUT_HIGH, OUTPUT_LOW ->
          all.stream().filter(word -> output(word, all.indexOf(word))).toList();
      case STRANGER ->
          all.stream().filter(word -> has(Part.COIL) || !word.contains("token")).toList();
      default -> all;
    };
  }

  /** A rig with bank and coil alone is drawn relays too that it does not have: its seeds stay. */
  private boolean relay(String word) {
    return switch (word) {
      case "permit" -> true;
      case "fill", "hold" -> has(Part.BANK);
      case "reverse", "full" -> has(Part.COIL);
      default -> has(Part.SUPPLY) || this == COIL;
    };
  }

  private boolean input(String word) {
    int index = HappeningKind.CONTACT_OPEN.on().indexOf(word);
    return index < PERSONS_INPUTS
        || (word.equals("fill contact") ? has(Part.BANK) : has(Part.COIL));
  }

  private boolean output(String word, int index) {
    if (word.equals("jig enable")) {
      return has(Part.JIG);
    } else if (index >= BANK_OUTPUTS) {
      return has(Part.SUPPLY);
    }
    return word.startsWith("bank") ? has(Part.BANK) : has(Part.COIL);
  }

  /** The line by which it is energised first. */
  OutputLine energises() {
    return has(Part.BANK)
        ? OutputLine.BANK_HOLD
        : has(Part.SUPPLY) ? OutputLine.COIL_ON : OutputLine.JIG_ENABLE;
  }

  /** The longest time until all is mended, in milliseconds; a jig is slower than a bank. */
  long faultyMsMax() {
    return faultyMsMax;
  }

  /** So long the next magnet may take to its verdict on a mended rig, in milliseconds. */
  long verdictWithinMs() {
    return verdictWithinMs;
  }
}
