package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.UnaryOperator;
import lodestep.config.ChargeBy;
import lodestep.config.CoilConfig;
import lodestep.config.KnockDownBy;
import lodestep.config.RigConfig;
import lodestep.magnet.Discharge;
import lodestep.magnet.FaceModel;
import lodestep.magnet.PickupCoil;
import lodestep.magnet.PulseCircuit;
import lodestep.magnet.Shape;
import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/**
 * A magnet that sits in a finished pickup: the winding around it, which a pulse coil around both
 * would drive to a high voltage. Any thread, immutable.
 *
 * @param turns of the winding, 1 to {@value #TURNS_MAX}
 * @param depth of copper around the magnet
 * @param shorted whether its ends are joined; open otherwise
 * @param trusted voltage that the winding is trusted with between its ends
 */
public record WoundPickup(int turns, Length depth, boolean shorted, Voltage trusted) {

  /** More is no pickup but a slip of the hand. */
  public static final int TURNS_MAX = 30_000;

  private static final Length DEPTH_MAX = Length.ofMm(40);
  private static final double VOLTS_MAX = 300;

  /** Where the plan does not say: common practice, no source. */
  private static final Length USUAL_DEPTH = Length.ofMm(4);

  private static final String HOW =
      "write for example '5200 turns', 'shorted', '4 mm deep', 'up to 100 V' with semicolons"
          + " between";

  /** Copper is coldest, and a pulse strongest, in a cold workshop. */
  private static final Temperature COLD = Temperature.ofDegC(10);

  /** As good as a supply that never sags, for the few milliseconds that count. */
  private static final double SUPPLY_FARADS = 10;

  /**
   * Reads it from a cell or an option: parts in any order, with commas or semicolons between.
   * {@code 5200 turns}; {@code open} or {@code shorted}, open if neither; {@code 4 mm deep}; {@code
   * up to 100 V}.
   *
   * @throws IllegalArgumentException with one sentence that says how to write it
   */
  public static WoundPickup read(String text) {
    Parts parts = new Parts();
    for (String part : text.strip().toLowerCase(Locale.ROOT).split("\\s*[,;]\\s*", -1)) {
      parts.take(part, text);
    }
    int turns =
        parts.turns.stream()
            .findFirst()
            .orElseThrow(
                () -> new IllegalArgumentException("'" + text + "' names no turns; " + HOW));
    return new WoundPickup(
        turns,
        parts.depths.stream().findFirst().orElse(USUAL_DEPTH),
        parts.shorted.contains(true),
        parts.volts.stream().findFirst().orElse(PickupCoil.USUAL_LIMIT));
  }

  /** What was read so far; each at most once. */
  private static final class Parts {
    private final List<Integer> turns = new ArrayList<>();
    private final List<Length> depths = new ArrayList<>();
    private final List<Boolean> shorted = new ArrayList<>();
    private final List<Voltage> volts = new ArrayList<>();

    void take(String part, String whole) {
      if (part.matches("\\d{1,9} ?turns?")) {
        once(turns, Integer.valueOf(part.replaceAll("\\D", "")), whole);
        require(turns.get(0) >= 1 && turns.get(0) <= TURNS_MAX, "turns are 1 to " + TURNS_MAX);
      } else if (part.equals("open") || part.equals("shorted")) {
        once(shorted, part.equals("shorted"), whole);
      } else if (part.endsWith(" deep")) {
        once(depths, Length.parse(part.substring(0, part.length() - 5)), whole);
        Length depth = depths.get(0);
        require(
            depth.metres() > 0 && depth.compareTo(DEPTH_MAX) <= 0,
            "a winding is up to " + DEPTH_MAX.written() + " deep");
      } else if (part.startsWith("up to ")) {
        UnaryOperator<String> upper = unit -> unit.replace('v', 'V').replace("k V", "kV");
        once(volts, Voltage.parse(upper.apply(part.substring(6))), whole);
        double trust = volts.get(0).volts();
        require(trust > 0 && trust <= VOLTS_MAX, "a winding is trusted with up to 300 V");
      } else {
        throw new IllegalArgumentException("'" + part + "' says nothing of a winding; " + HOW);
      }
    }

    private static <T> void once(List<T> said, T value, String whole) {
      if (!said.isEmpty()) {
        throw new IllegalArgumentException("'" + whole + "' says one thing twice; " + HOW);
      }
      said.add(value);
    }

    private static void require(boolean holds, String otherwise) {
      if (!holds) {
        throw new IllegalArgumentException(otherwise + "; " + HOW);
      }
    }
  }

  /** As a person would say it. */
  public String words() {
    return String.format(
        Locale.ROOT,
        "%d turns, %s deep, %s, trusted with %.0f V",
        turns,
        depth.written(),
        shorted ? "shorted" : "open",
        trusted.volts());
  }

  /** As it goes on record of a magnet. */
  LedgerEvent entry(long magnet) {
    return new StockEvent.MagnetWound(
        magnet, turns, depth.microMetres(), shorted, Math.round(trusted.volts() * 1e3));
  }

  /** As it stands on record. */
  public static WoundPickup of(StockEvent.MagnetWound entry) {
    return new WoundPickup(
        Math.toIntExact(entry.turns()),
        Length.ofMicroMetres(entry.depthMicroMetres()),
        entry.shorted(),
        new Voltage(entry.trustedMilliVolts() * 1e-3));
  }

  /**
   * What the strongest pulse of this rig in a nest's coil does to it; empty if no coil of the rig
   * pulses.
   */
  public Optional<PickupCoil.Induced> inducedBy(RigConfig rig, FaceModel kind, String coil) {
    boolean pulses =
        !rig.headAlone()
            && !rig.coils().isEmpty()
            && (rig.sources().charge() == ChargeBy.COIL
                || rig.sources().knockDown() == KnockDownBy.COIL);
    return pulses ? Optional.of(induced(kind, strongest(rig, rig.coil(coil)))) : Optional.empty();
  }

  /** Why it may not be pulsed so; empty if it may. */
  public Optional<String> refusal(PickupCoil.Induced induced) {
    String joined = "; joined ends are not counted on, as nobody proves them to the rig";
    return induced.refusal(trusted).map(why -> shorted ? why + joined : why);
  }

  /** From the magnet's side to the outside of the winding. */
  public Length reach() {
    return new Length(PickupCoil.BOBBIN.metres() + depth.metres());
  }

  /** What a pulse does to it. */
  public PickupCoil.Induced induced(FaceModel kind, PickupCoil.Pulse pulse) {
    Shape shape = kind.shape();
    PickupCoil.Magnet magnet = new PickupCoil.Magnet(shape, kind.model().loop());
    return PickupCoil.around(shape, turns, depth).by(pulse, magnet);
  }

  private static PickupCoil.Pulse strongest(RigConfig rig, CoilConfig coil) {
    double farads = rig.supply().isPresent() ? SUPPLY_FARADS : rig.bank().capacitanceFarads();
    Voltage volts =
        rig.supply().map(supply -> supply.voltage()).orElseGet(() -> rig.bank().voltageMax());
    double gate =
        rig.supply().map(supply -> supply.longestNs() * 1e-9).orElse(Double.POSITIVE_INFINITY);
    double ohms = coil.ohmsAt(COLD);
    PulseCircuit loop = new PulseCircuit(ohms, coil.inductanceHenries(), farads);
    return new PickupCoil.Pulse(new Discharge(loop, ohms, volts, gate), coil.fieldPerAmp());
  }
}
