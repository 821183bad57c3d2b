package lodestep.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import lodestep.bench.WoundPickup;
import lodestep.config.BankConfig;
import lodestep.magnet.BankSizing;
import lodestep.magnet.CoilDesign;
import lodestep.magnet.CoilDuty;
import lodestep.magnet.Discharge;
import lodestep.magnet.EddyCurrents;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Figure;
import lodestep.magnet.PickupCoil;
import lodestep.magnet.Winding;
import lodestep.port.Plot;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.Energy;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Coil and bank for a magnet. */
@Command(
    name = "coil",
    description = "Coil and bank that charge a magnet, with every figure a builder needs.",
    footer = {
      "",
      "Never above 50 V and 60 J. The bank stays filled when everything looks quiet:",
      "read safety/ before building, and have mains wiring done by a licensed person.",
      "Example: lodestep magnet coil --alloy \"alnico 6\" --size \"4.6 x 15.5 mm\""
    })
final class CoilCommand extends Asked {

  /** Bank, switch, leads and changeover together; common practice, no source. */
  private static final double PATH_OHMS = 0.06;

  /** Kelvin per watt of a coil of this size in still air; common practice, no source. */
  private static final double COOLING = 5;

  /** The rig trips on more than 2 per cent of the wrong sign. */
  private static final double UNDOES = 0.02;

  private static final String RANGE =
      "Of a coil of air with close, even turns, and of a usual magnet: the magnet's own flux and"
          + " the leads' inductance are left out, a wire is taken a tenth thicker with its enamel,"
          + " and harder lots need some per cent more. Capacitor, switch and diode need ratings"
          + " above these figures: the bank's voltage, the highest current, the action.";

  private static final int COLUMNS = MagnetCommands.COLUMNS;

  /** Of the curve that is drawn. */
  private static final int STEPS = 120;

  /** A coil larger than this is none for a pickup's magnet. */
  private static final Length DISTANCE_MAX = Length.ofMm(100);

  private static final Energy ENERGY_MAX = new Energy(BankConfig.JOULES_CAP);
  private static final Voltage VOLTAGE_MAX = new Voltage(BankConfig.VOLTS_CAP);
  private static final Temperature WARMEST = Temperature.ofDegC(70);
  private static final Temperature ROOM = Temperature.ofDegC(22);

  private final Desk desk;
  @Mixin private KindOptions asked = new KindOptions();

  @Option(
      names = "--clearance",
      paramLabel = "DISTANCE",
      defaultValue = "1.0 mm",
      description = "from the magnet to the copper; 1.0 mm if left out")
  private String clearance = "";

  @Option(
      names = "--depth",
      paramLabel = "DISTANCE",
      defaultValue = "10 mm",
      description = "thickness of the winding; 10 mm if left out")
  private String depth = "";

  @Option(
      names = "--overhang",
      paramLabel = "DISTANCE",
      defaultValue = "4 mm",
      description = "of the coil over each end of the magnet; 4 mm if left out")
  private String overhang = "";

  @Option(
      names = "--largest-current",
      paramLabel = "AMPS",
      defaultValue = "200",
      description = "that switch, diode and contacts carry in a pulse; 200 if left out")
  private double amps;

  @Option(
      names = "--winding",
      paramLabel = "WINDING",
      description =
          "of a finished pickup around the magnet, \"5200 turns; open\": says what a pulse would"
              + " induce in it")
  private @Nullable String winding;

  @Option(names = "--plot", paramLabel = "FILE", description = "draws the pulse: .svg or .png")
  private @Nullable Path file;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  CoilCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    FaceModel kind = asked.kind(asked.rig(desk));
    if (!kind.alloy().family().isDialed()) {
      throw new Refusal(
          "--alloy: "
              + kind.alloy().name()
              + " needs a field of "
              + kind.saturating().written()
              + ", which no bank of 50 V and 60 J gives; read and match such magnets as they come");
    }
    EddyCurrents eddies =
        KindOptions.said(
            "--alloy",
            () -> EddyCurrents.of(kind.shape(), kind.alloy().figure(Figure.RESISTIVITY)));
    double base = eddies.leastBaseSeconds(kind.model().loop(), kind.alloy().saturatingField());
    BankSizing.Answer answer = answer(kind, base);
    if (answer instanceof BankSizing.Answer.None none) {
      desk.err().println("lodestep: no coil and bank of this kind: " + none.why());
      desk.err().flush();
      return Desk.NOT_ACCEPTED;
    }
    BankSizing.Answer.Sized sized = answer.sized().orElseThrow();
    List<Fact> facts = new ArrayList<>(ofCoil(kind, sized));
    facts.addAll(ofPulse(sized, base));
    Optional<WoundPickup> wound = wound();
    Optional<PickupCoil.Induced> induced = wound.map(pickup -> pickup.induced(kind, pulse(sized)));
    induced.ifPresent(there -> facts.addAll(ofWinding(there)));
    Optional<String> refused = wound.flatMap(pickup -> induced.flatMap(pickup::refusal));
    Plot plot = plot(kind, sized.pulse());
    MagnetCommands.drawn(desk, plot, file);
    if (json) {
      desk.print(json(kind, facts, refused));
    } else {
      desk.print(words(plot, facts, sized, refused));
    }
    return Desk.DONE;
  }

  private static ObjectNode json(FaceModel kind, List<Fact> facts, Optional<String> refused) {
    ObjectNode node = Json.array().addObject();
    node.put("alloy", kind.alloy().name());
    node.put("shape", kind.shape().words());
    node.put("validity", RANGE);
    facts.forEach(fact -> node.put(fact.key(), fact.value()));
    refused.ifPresent(why -> node.put("windingRefused", why));
    return node;
  }

  private Optional<WoundPickup> wound() {
    String asked = winding;
    return Optional.ofNullable(asked)
        .map(text -> KindOptions.said("--winding", () -> WoundPickup.read(text)));
  }

  private static PickupCoil.Pulse pulse(BankSizing.Answer.Sized sized) {
    return new PickupCoil.Pulse(sized.pulse(), sized.coil().middleFieldPerAmp());
  }

  private static List<Fact> ofWinding(PickupCoil.Induced induced) {
    return List.of(
        new Fact("in the pickup's open winding", "inducedVolts", induced.openVolts(), 1, "%8.0f V"),
        new Fact(
            "or, shorted, a current in it of",
            "shortedAmps",
            induced.shortedAmps(),
            1e3,
            "%8.1f mA"),
        new Fact(
            "which keeps out of the magnet's flux",
            "keptOutFraction",
            induced.keptOutFraction(),
            1e2,
            "%8.1f %%"));
  }

  private BankSizing.Answer answer(FaceModel kind, double baseSeconds) {
    BankSizing sizing =
        KindOptions.said(
            "--largest-current",
            () ->
                new BankSizing(
                    VOLTAGE_MAX, ENERGY_MAX, new ElectricCurrent(amps), PATH_OHMS, WARMEST));
    Length copper = distance("--depth", depth);
    Length aside = distance("--clearance", clearance);
    wound()
        .filter(pickup -> pickup.reach().compareTo(aside) > 0)
        .ifPresent(
            pickup -> {
              throw new Refusal(
                  "--clearance: the pickup's winding stands "
                      + pickup.reach().written()
                      + " out from the magnet, and the coil goes around it: "
                      + aside.written()
                      + " is too little");
            });
    Length over = distance("--overhang", overhang);
    BankSizing.Work work = new BankSizing.Work(kind.shape(), kind.saturating(), baseSeconds);
    return KindOptions.said(
        "--depth",
        () -> sizing.bankFor(work, CoilDesign.roomAround(kind.shape(), aside, copper, over)));
  }

  private static Length distance(String option, String text) {
    Length read = KindOptions.said(option, () -> Length.parse(text));
    if (read.metres() < 0 || read.compareTo(DISTANCE_MAX) > 0) {
      throw new Refusal(
          option + ": it is 0 to " + DISTANCE_MAX.written() + " around a magnet, not " + text);
    }
    return read;
  }

  /** The current through the coil, to a little beyond the end of the pulse. */
  private static Plot plot(FaceModel kind, Discharge pulse) {
    double end = 1.2 * pulse.baseSeconds();
    List<Double> seconds =
        IntStream.rangeClosed(0, STEPS).mapToObj(step -> end * step / STEPS).toList();
    return new Plot(
        "Coil and bank for " + kind,
        "after the switch closes, ms",
        "current through the coil, A",
        List.of(
            new Plot.Curve(
                "pulse",
                seconds.stream().map(at -> at * 1e3).toList(),
                seconds.stream().map(pulse::ampsAt).toList())));
  }

  private static List<String> words(
      Plot plot, List<Fact> facts, BankSizing.Answer.Sized sized, Optional<String> refused) {
    List<String> lines = new ArrayList<>(List.of(plot.title(), ""));
    lines.addAll(TerminalPlot.lines(plot));
    lines.add("");
    facts.forEach(
        fact ->
            lines.add(
                MagnetCommands.said(
                    "%-42s " + fact.format(), fact.words(), fact.value() * fact.scale())));
    lines.add("");
    lines.addAll(Wrapped.lines("", warnings(sized), COLUMNS));
    lines.add("");
    lines.addAll(Wrapped.lines("", RANGE, COLUMNS));
    refused.ifPresent(
        why -> {
          lines.add("");
          lines.addAll(Wrapped.lines("", "Not for this pickup: " + why + ".", COLUMNS));
        });
    return lines;
  }

  /** One figure: in words with a scale for people, under a key in SI units. */
  private record Fact(String words, String key, double value, double scale, String format) {}

  private static List<Fact> ofCoil(FaceModel kind, BankSizing.Answer.Sized sized) {
    CoilDesign coil = sized.coil();
    List<Fact> facts = new ArrayList<>(ofRoom(coil.winding()));
    facts.addAll(ofWire(kind, sized));
    return facts;
  }

  /**
   * What the former has to leave free, and what the whole takes up; a round one is as wide twice.
   */
  private static List<Fact> ofRoom(Winding room) {
    double depth = room.depthMetres();
    List<Fact> facts = new ArrayList<>();
    facts.add(millimetres("bore", "boreMetres", room.boreXMetres()));
    if (room.boreXMetres() != room.boreYMetres()) {
      facts.add(millimetres("bore, the other way", "boreOtherMetres", room.boreYMetres()));
    }
    facts.add(millimetres("outside", "outsideMetres", room.boreXMetres() + 2 * depth));
    if (room.boreXMetres() != room.boreYMetres()) {
      facts.add(
          millimetres(
              "outside, the other way", "outsideOtherMetres", room.boreYMetres() + 2 * depth));
    }
    facts.add(millimetres("length of the winding", "lengthMetres", room.lengthMetres()));
    facts.add(millimetres("depth of the winding", "depthMetres", depth));
    return facts;
  }

  private static Fact millimetres(String words, String key, double metres) {
    return new Fact(words, key, metres, 1e3, "%8.1f mm");
  }

  private static List<Fact> ofWire(FaceModel kind, BankSizing.Answer.Sized sized) {
    CoilDesign coil = sized.coil();
    return List.of(
        new Fact(
            "field it has to give",
            "neededAmperesPerMetre",
            kind.saturating().amperesPerMetre(),
            1e-3,
            "%8.1f kA/m"),
        new Fact(
            "field it gives, where it is weakest",
            "fieldAmperesPerMetre",
            sized.field().amperesPerMetre(),
            1e-3,
            "%8.1f kA/m"),
        new Fact("layers", "layers", coil.layers(), 1, "%8.0f"),
        new Fact("turns of each", "turnsOfALayer", coil.turnsOfALayer(), 1, "%8.0f"),
        new Fact("turns", "turns", coil.winding().turns(), 1, "%8.0f"),
        new Fact("wire, bare copper", "wireMetres", coil.wire().diameterMetres(), 1e3, "%8.2f mm"),
        new Fact(
            "wire with its enamel", "overEnamelMetres", coil.overEnamelMetres(), 1e3, "%8.2f mm"),
        new Fact("length of wire", "wireLengthMetres", coil.wire().lengthMetres(), 1, "%8.1f m"),
        new Fact("resistance at 20 °C", "ohms", coil.ohmsAt(Temperature.ofDegC(20)), 1, "%8.3f Ω"),
        new Fact("resistance at 70 °C", "warmOhms", coil.ohmsAt(WARMEST), 1, "%8.3f Ω"),
        new Fact("inductance", "henries", coil.inductanceHenries(), 1e3, "%8.3f mH"));
  }

  private static List<Fact> ofPulse(BankSizing.Answer.Sized sized, double baseSeconds) {
    Discharge pulse = sized.pulse();
    double heat = sized.coil().wire().heatJoulesPerKelvin();
    CoilDuty duty = new CoilDuty(sized.riseKelvin(), heat * COOLING);
    double farads = pulse.loop().capacitanceFarads();
    return List.of(
        new Fact("bank", "farads", farads, 1e3, "%8.2f mF"),
        new Fact("filled to", "volts", pulse.bank().volts(), 1, "%8.1f V"),
        new Fact("energy in the bank", "joules", pulse.bankJoules(), 1, "%8.1f J"),
        new Fact(
            "left in the bank by the pulse, to be bled",
            "residualVolts",
            pulse.residualVolts(),
            1,
            "%8.1f V"),
        new Fact("highest current", "amps", pulse.peakAmps(), 1, "%8.1f A"),
        new Fact("reached after", "peakSeconds", pulse.peakSeconds(), 1e3, "%8.2f ms"),
        new Fact("width of the pulse", "baseSeconds", pulse.baseSeconds(), 1e3, "%8.2f ms"),
        new Fact(
            "width that eddy currents ask for", "leastBaseSeconds", baseSeconds, 1e3, "%8.2f ms"),
        new Fact(
            "action, through switch and changeover",
            "actionAmpsSquaredSeconds",
            pulse.actionAmpsSquaredSeconds(),
            1,
            "%8.1f A²s"),
        new Fact("heat in the coil a pulse", "coilJoules", pulse.coilJoules(), 1, "%8.1f J"),
        new Fact("warmer by, a pulse", "riseKelvin", sized.riseKelvin(), 1, "%8.2f K"),
        new Fact(
            "pulses an hour up to 70 °C, by heat alone",
            "pulsesPerHour",
            duty.pulsesPerHour(WARMEST, ROOM),
            1,
            "%8.0f"));
  }

  private static String warnings(BankSizing.Answer.Sized sized) {
    double back = sized.pulse().swingBackWithoutDiode();
    return MagnetCommands.said(
        "The changeover is switched without current and carries %.0f A in a pulse. Without the"
            + " freewheel diode the current would swing back to %.0f %% of its peak%s. The coil is"
            + " taken to lose its heat at 5 K/W. The bank keeps what is left in it; trust it only"
            + " when a meter on its terminals says it is empty.",
        sized.pulse().peakAmps(),
        100 * back,
        back >= UNDOES ? " and undo part of each charge" : "; fit the diode all the same");
  }
}
