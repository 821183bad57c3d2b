package lodestep.config;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.regex.Pattern;
import lodestep.quantity.Length;
import lodestep.quantity.Nearest;

/** Makes the records of a rig from its file's tables. Confined to one reading. */
final class RigReader {

  private static final int SCHEMA = 1;
  private static final int NAME_LENGTH_MAX = 40;
  private static final double STAND_OFF_MM_MAX = 20.0;

  /** What fits into a head's hello, see PROTOCOL.md. */
  private static final Pattern SERIAL_NUMBER = Pattern.compile("[!-~]{1,16}");

  private final Problems problems;
  private final Section root;

  /** Of every [[coil]], also of one with faults: a nest is not to blame for those. */
  private final List<String> coilNames = new ArrayList<>();

  RigReader(Problems problems, Section root) {
    this.problems = problems;
    this.root = root;
  }

  /** The rig, or nothing when any problem was noted. */
  Optional<RigConfig> read() {
    return schemaIsKnown() ? known() : Optional.empty();
  }

  private Optional<RigConfig> known() {
    Optional<Section> rig = root.table("rig");
    Optional<String> name = rig.flatMap(RigReader::rigName);
    Optional<RigKind> kind = rig.flatMap(RigReader::kind);
    Optional<HeadConfig> head = head(kind);
    boolean jigTold = root.mayHave("jig");
    boolean alone = kind.isPresent() && nothingToDrive();
    boolean coilless = alone || (jigTold && !coilTold());
    boolean supplied = supplied();
    Optional<SupplyConfig> supply = supply(supplied);
    Optional<BankConfig> bank = bank(coilless || supplied);
    List<CoilConfig> coils = coils(coilless, supplied);
    Optional<JigConfig> jig = root.tableIfThere("jig").flatMap(JigReader::read);
    Optional<Sources> sources = rig.map(given -> sources(given, !coilless, jigTold, jig));
    int before = problems.count();
    List<NestConfig> nests = nests(coilless);
    Optional<GaugeConfig> gauge = gauge(nests, problems.count() > before);
    List<LotConfig> lots = lots();
    RelayConfig relays = relays(coilless);
    Map<String, Integer> pins = pins(alone, kind, PinNames.of(!coilless, supply, jigTold));
    root.end();
    return problems.count() > 0
        ? Optional.empty()
        : Optional.of(
            new RigConfig(
                name.orElseThrow(),
                kind.orElseThrow(),
                head.orElseThrow(),
                bank.orElseThrow(),
                supply.orElse(SupplyConfig.NONE),
                coils,
                nests,
                gauge.orElseThrow(),
                Limits.standard(),
                pins,
                sources.orElseThrow(),
                lots,
                relays,
                ""));
  }

  private Optional<GaugeConfig> gauge(List<NestConfig> nests, boolean nestRefused) {
    List<ReferenceConfig> references = references(nests, nestRefused);
    return root.table("gauge").flatMap(GaugeReader::read).map(told -> told.with(references));
  }

  private List<ReferenceConfig> references(List<NestConfig> nests, boolean nestRefused) {
    // With a nest refused its reference would be refused for a fault that stands elsewhere.
    return ReferenceReader.read(root, nestRefused ? List.of() : nests);
  }

  /** A rig without a coil has no relay that this program works. */
  private RelayConfig relays(boolean coilless) {
    if (coilless && root.mayHave("relays")) {
      root.refuse("relays", "this rig has no coil, and so no relays; take [relays] out");
    }
    return root.tableIfThere("relays").map(RelayReader::read).orElse(RelayConfig.NONE);
  }

  private List<LotConfig> lots() {
    List<LotConfig> lots = new ArrayList<>();
    for (Section section : root.mayHave("lot") ? root.tables("lot") : List.<Section>of()) {
      Optional<String> name = name(section, "heron yard 7");
      Optional<String> alloy = section.text("alloy", "alnico 5");
      Optional<String> measured = section.text("measured", "ten magnets, 12 May");
      Map<String, Double> figures = new HashMap<>();
      for (String key : LotConfig.KEYS) {
        section.numberIfThere(key, "1.23").ifPresent(figure -> figures.put(key, figure));
      }
      List<LotConfig.Point> curve =
          section.mayHave("curve")
              ? section
                  .quantities("curve", "[\"-48.7 kA/m, 377 mT\"]", LotConfig.Point::parse)
                  .orElse(List.of())
              : List.of();
      if (section.end()) {
        lots.add(
            new LotConfig(
                name.orElseThrow(), alloy.orElseThrow(), figures, curve, measured.orElseThrow()));
      }
    }
    return lots;
  }

  private static Sources sources(
      Section rig, boolean coil, boolean jigTold, Optional<JigConfig> jig) {
    Sources sources = SourcesReader.read(rig, coil, jigTold, jig);
    rig.end();
    return sources;
  }

  private boolean coilTold() {
    boolean coil = root.mayHave("coil");
    boolean bank = root.mayHave("bank");
    boolean supply = root.mayHave("supply");
    return coil || bank || supply;
  }

  private Optional<SupplyConfig> supply(boolean told) {
    return told ? root.table("supply").flatMap(SupplyReader::read) : Optional.empty();
  }

  private Optional<BankConfig> bank(boolean none) {
    return none ? Optional.of(BankConfig.NONE) : root.table("bank").flatMap(BankReader::read);
  }

  private boolean schemaIsKnown() {
    OptionalLong schema = root.whole("schema", 1, Long.MAX_VALUE);
    if (schema.isPresent() && schema.getAsLong() != SCHEMA) {
      root.refuse(
          "schema",
          "schema "
              + schema.getAsLong()
              + " is newer than this program reads (schema "
              + SCHEMA
              + "); use the program that the file was written for");
    }
    return schema.isPresent() && schema.getAsLong() == SCHEMA;
  }

  private static Optional<String> rigName(Section rig) {
    return name(rig, "attic bench");
  }

  /** The name a table gives, noted if it cannot be one. */
  static Optional<String> name(Section section, String example) {
    Optional<String> name = section.text("name", example);
    boolean good = name.map(RigReader::isName).orElse(true);
    if (!good) {
      section.refuse(
          "name",
          "'name' must have 1 to "
              + NAME_LENGTH_MAX
              + " printable characters and no blank at either end");
    }
    return good ? name : Optional.empty();
  }

  private static boolean isName(String name) {
    return !name.isEmpty()
        && name.length() <= NAME_LENGTH_MAX
        && name.equals(name.strip())
        && name.codePoints().noneMatch(Character::isISOControl);
  }

  private static Optional<RigKind> kind(Section rig) {
    return rig.word("kind", List.of(RigKind.VIRTUAL.word(), RigKind.REAL.word()))
        .map(word -> word.equals(RigKind.REAL.word()) ? RigKind.REAL : RigKind.VIRTUAL);
  }

  private Optional<HeadConfig> head(Optional<RigKind> kind) {
    Optional<Section> section = root.tableIfThere("head");
    if (section.isEmpty()) {
      if (kind.equals(Optional.of(RigKind.REAL))) {
        root.refuse("rig", "a real rig needs a [head] with the 'port' of its serial line");
      }
      return Optional.of(new HeadConfig.VirtualHead());
    }
    Optional<String> port = section.get().text("port", "/dev/serial/by-id/usb-head-0001");
    Optional<String> serial = section.get().textIfThere("serial_number", "0001");
    if (port.isPresent() && !port.get().startsWith("/")) {
      section
          .get()
          .refuse("port", "'port' must be an absolute path, beginning with /: " + port.get());
    }
    if (serial.isPresent() && !SERIAL_NUMBER.matcher(serial.get()).matches()) {
      section
          .get()
          .refuse(
              "serial_number",
              "'serial_number' must have 1 to 16 printable characters without blanks, as a head"
                  + " tells it: "
                  + serial.get());
    }
    section.get().end();
    return port.map(path -> new HeadConfig.SerialHead(path, serial.orElse("")));
  }

  /** Whether a bench supply feeds the coils; a rig with a bank as well is refused. */
  private boolean supplied() {
    boolean supply = root.mayHave("supply");
    if (supply && root.mayHave("bank")) {
      root.refuse(
          "supply",
          "a coil is fed by a [bank] or by a [supply], not by both; take one of the two out");
    }
    return supply;
  }

  private List<CoilConfig> coils(boolean none, boolean supplied) {
    List<CoilConfig> coils = new ArrayList<>();
    for (Section section : none ? List.<Section>of() : root.tables("coil")) {
      Optional<String> name = name(section, "rod coil");
      Optional<CoilConfig> coil = CoilReader.read(section, name, supplied);
      name.filter(coilNames::contains)
          .ifPresent(given -> section.refuse("name", "there is already a coil '" + given + "'"));
      name.ifPresent(coilNames::add);
      coil.ifPresent(coils::add);
    }
    return coils;
  }

  /**
   * A rig of which neither a bank, nor a supply, a coil, a jig or a pin is told is a head alone.
   */
  private boolean nothingToDrive() {
    boolean bank = root.mayHave("bank");
    boolean coil = root.mayHave("coil");
    boolean jig = root.mayHave("jig");
    boolean pins = root.mayHave("pins");
    boolean supply = root.mayHave("supply");
    return !bank && !coil && !jig && !pins && !supply;
  }

  private List<NestConfig> nests(boolean coilless) {
    List<NestConfig> nests = new ArrayList<>();
    for (Section section : root.tables("nest")) {
      Optional<NestConfig> nest = nest(section, coilless);
      nest.filter(given -> nests.stream().anyMatch(other -> other.name().equals(given.name())))
          .ifPresent(
              given -> section.refuse("name", "there is already a nest '" + given.name() + "'"));
      nest.ifPresent(nests::add);
    }
    return nests;
  }

  private Optional<NestConfig> nest(Section section, boolean coilless) {
    Optional<String> name = name(section, "rod nest");
    Optional<String> shape = section.word("shape", List.of("rod", "ring", "bar"));
    Optional<Length> standOff = section.quantity("stand_off", "2.0 mm", Length::parse);
    Optional<String> coil = coilless ? Optional.of("") : section.text("coil", "rod coil");
    if (standOff.isPresent()
        && !(standOff.get().mm() > 0 && standOff.get().mm() <= STAND_OFF_MM_MAX)) {
      section.refuse(
          "stand_off",
          "'stand_off' must be greater than zero and at most " + STAND_OFF_MM_MAX + " mm");
    }
    // With no coil at all every nest would be refused for a fault that stands elsewhere.
    if (coil.isPresent() && !coilNames.isEmpty() && !coilNames.contains(coil.get())) {
      section.refuse(
          "coil",
          "there is no coil '"
              + coil.get()
              + "'; the coils are "
              + coilNames
              + Nearest.hint(coil.get(), coilNames));
    }
    if (!section.end()) {
      return Optional.empty();
    }
    return Optional.of(
        new NestConfig(
            name.orElseThrow(), shape.orElseThrow(), standOff.orElseThrow(), coil.orElseThrow()));
  }

  private Map<String, Integer> pins(boolean alone, Optional<RigKind> kind, PinNames names) {
    if (alone) {
      return Map.of();
    }
    Optional<Section> section = root.tableIfThere("pins");
    if (kind.equals(Optional.of(RigKind.REAL)) && section.isEmpty()) {
      root.refuse("rig", "a real rig needs [pins] that name the board's lines");
    }
    if (kind.equals(Optional.of(RigKind.VIRTUAL)) && section.isPresent()) {
      root.refuse(
          "pins", "a virtual rig has no pins; remove [pins], or write kind = \"real\" in [rig]");
      return Map.of();
    }
    return section.map(there -> pins(there, names)).orElse(Map.of());
  }

  private static Map<String, Integer> pins(Section section, PinNames names) {
    Map<String, Integer> numbers = new HashMap<>();
    Map<Integer, String> takenBy = new HashMap<>();
    for (String name : names.all()) {
      if (!names.needed().contains(name) && !section.mayHave(name)) {
        continue;
      }
      OptionalLong number = section.whole(name, 0, BoardPins.NUMBER_MAX);
      if (number.isPresent()) {
        int pin = (int) number.getAsLong();
        numbers.put(name, pin);
        BoardPins.objection(pin, PinNames.OUTPUTS.contains(name))
            .ifPresent(why -> refuseReserved(section, pin, name, why));
        Optional.ofNullable(takenBy.putIfAbsent(pin, name))
            .ifPresent(other -> refuseDoubled(section, pin, name, other));
      }
    }
    section.end();
    return numbers;
  }

  private static void refuseReserved(Section section, int pin, String name, String why) {
    section.refuse(name, "pin " + pin + " is not for '" + name + "': " + why + "; take another");
  }

  private static void refuseDoubled(Section section, int pin, String name, String other) {
    section.refuse(
        name,
        "pin "
            + pin
            + " of '"
            + name
            + "' is already that of '"
            + other
            + "' in line "
            + section.position(other).line()
            + "; each line has a pin of its own");
  }
}
