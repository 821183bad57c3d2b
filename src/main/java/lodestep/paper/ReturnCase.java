package lodestep.paper;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import java.util.function.ToDoubleFunction;
import lodestep.dial.RecordedShape;
import lodestep.ledger.Pickup;
import lodestep.magnet.Alloy;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Keeping;
import lodestep.magnet.Shape;
import lodestep.magnet.SlowRelaxation;
import lodestep.port.LedgerEvent.CalibrationSet;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.StockEvent.PoleTopRead;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * A pickup that came back, with what is on record of it. Any thread, immutable.
 *
 * @param magnets those of its magnets that are on record, in the order of the strings
 * @param before the round it is held against
 * @param now the round that was read today
 * @param gauges calibrations in use before and now
 * @param counts the smallest relative change that counts as one
 */
public record ReturnCase(
    Pickup pickup,
    List<Magnet> magnets,
    Before before,
    Pickup.Round now,
    Gauges gauges,
    double counts) {

  /**
   * Relative standard uncertainty of laying a pole top over the gauge. Common practice, no source:
   * a pickup is laid less surely than a magnet in its nest.
   */
  public static final double PLACEMENT = 0.004;

  /** A change below this is heard by nobody. Common practice, no source. */
  public static final double COUNTS = 0.015;

  /** What time may have taken where the magnets are not on record; assumed. */
  private static final double AGEING_UNKNOWN = 0.002;

  /** A coefficient of another lot or working point differs by up to half; assumed. */
  private static final double COEFFICIENT_PART = 0.5;

  /** How well a level at one distance tells that at another, by shape; from the model's checks. */
  private static final double ELSEWHERE_ROD = 0.05;

  private static final double ELSEWHERE_OTHER = 0.08;

  private static final double ROOM_DEG_C = 20;
  private static final double KELVIN_MAX = 100;
  private static final double FIELD_MAX = 200e3;
  private static final double SECONDS_LEAST = 10;
  private static final int HALVINGS = 30;

  public ReturnCase {
    magnets = List.copyOf(magnets);
  }

  /** A magnet of the pickup, with the level it was accepted at. */
  public record Magnet(
      MagnetNamed identity,
      FluxDensity level,
      FluxDensity uncertainty,
      Length standOff,
      Instant wall) {}

  /** Calibrations, of the readings before and of those now. */
  public record Gauges(CalibrationSet before, CalibrationSet now) {}

  /** What is held against. */
  public sealed interface Before {

    /** Its own pole tops, read earlier. */
    record Tops(Pickup.Round round) implements Before {}

    /** Only the magnets by themselves, before it was assembled. */
    record Loose() implements Before {}
  }

  /** When the earlier readings were taken, by the wall clock. */
  public Instant beforeWall() {
    return before instanceof Before.Tops tops ? tops.round().wall() : magnets.get(0).wall();
  }

  /**
   * The check.
   *
   * @param book of alloys
   * @throws IllegalArgumentException with one sentence, if the readings cannot be held against one
   *     another
   */
  public ReturnCheck check(AlloyBook book) {
    List<ReturnCheck.Pole> poles =
        before instanceof Before.Tops tops ? tops(tops.round()) : loose(book);
    double perKelvin = perKelvin(book);
    double gain =
        Math.hypot(
            gauges.before().gainStandardUncertaintyPpm() * 1e-6,
            gauges.now().gainStandardUncertaintyPpm() * 1e-6);
    double elsewhere = before instanceof Before.Tops ? 0 : elsewhere();
    return new ReturnCheck(
        poles,
        new ReturnCheck.Doubts(
            PLACEMENT,
            Math.hypot(gain, elsewhere),
            perKelvin,
            COEFFICIENT_PART * Math.abs(perKelvin)),
        ageing(book),
        counts);
  }

  private List<ReturnCheck.Pole> tops(Pickup.Round then) {
    if (spacer(then) != spacer(now)) {
      throw new IllegalArgumentException(
          "the pole tops were read "
              + Length.ofMicroMetres(spacer(then)).written()
              + " away then and "
              + Length.ofMicroMetres(spacer(now)).written()
              + " now; read them again with the spacer of then");
    }
    List<ReturnCheck.Pole> poles = new ArrayList<>();
    for (PoleTopRead top : now.poles()) {
      then.poles().stream()
          .filter(earlier -> earlier.pole() == top.pole())
          .findFirst()
          .ifPresent(
              earlier ->
                  poles.add(new ReturnCheck.Pole(top.pole(), reading(earlier), reading(top))));
    }
    return poles;
  }

  private static long spacer(Pickup.Round round) {
    return round.poles().get(0).spacerMicroMetres();
  }

  private static ReturnCheck.Reading reading(PoleTopRead top) {
    return new ReturnCheck.Reading(
        top.fieldMicroTesla() * 1e-6,
        top.uncertaintyNanoTesla() * 1e-9,
        top.gaugeCentiDegC() * 1e-2);
  }

  /** What each magnet's own level would read through the spacer, by the model. */
  private List<ReturnCheck.Pole> loose(AlloyBook book) {
    if (magnets.size() != now.poles().size()) {
      throw new IllegalArgumentException(
          "only loose readings of its magnets are on record, "
              + magnets.size()
              + " of them for "
              + now.poles().size()
              + " poles: what a pole top would have read cannot be told from them");
    }
    List<ReturnCheck.Pole> poles = new ArrayList<>();
    for (int at = 0; at < magnets.size(); at++) {
      Magnet magnet = magnets.get(at);
      PoleTopRead top = now.poles().get(at);
      Keeping keeping = keeping(magnet, book).orElseThrow(() -> unknown(magnet));
      FluxDensity size = magnet.level().magnitude();
      double elsewhere =
          keeping.readsAt(size, Length.ofMicroMetres(top.spacerMicroMetres())).tesla();
      double part = elsewhere / size.tesla();
      poles.add(
          new ReturnCheck.Pole(
              top.pole(),
              new ReturnCheck.Reading(
                  magnet.level().tesla() * part, magnet.uncertainty().tesla() * part, ROOM_DEG_C),
              reading(top)));
    }
    return poles;
  }

  private static IllegalArgumentException unknown(Magnet magnet) {
    return new IllegalArgumentException(
        "the alloy or shape of " + magnet.identity().name() + " is not one this program knows");
  }

  private double elsewhere() {
    return magnets.stream().allMatch(magnet -> magnet.identity().shape().equals("rod"))
        ? ELSEWHERE_ROD
        : ELSEWHERE_OTHER;
  }

  private static Optional<Keeping> keeping(Magnet magnet, AlloyBook book) {
    Optional<Alloy> alloy = book.find(magnet.identity().alloy());
    Optional<Shape> shape = RecordedShape.find(magnet.identity());
    return alloy.isPresent() && shape.isPresent()
        ? Optional.of(Keeping.of(FaceModel.of(alloy.get(), shape.get()), magnet.standOff()))
        : Optional.empty();
  }

  private double perKelvin(AlloyBook book) {
    return magnets.stream()
        .flatMap(magnet -> book.find(magnet.identity().alloy()).stream())
        .mapToDouble(Alloy::remanencePerKelvin)
        .average()
        .orElse(0);
  }

  /** Relative loss that time alone is expected to have taken since the earlier readings. */
  private double ageing(AlloyBook book) {
    return magnets.stream()
        .mapToDouble(magnet -> ageing(magnet, book))
        .max()
        .orElse(AGEING_UNKNOWN);
  }

  private double ageing(Magnet magnet, AlloyBook book) {
    double from =
        Math.max(SECONDS_LEAST, Duration.between(magnet.wall(), beforeWall()).toMillis() * 1e-3);
    double to = Math.max(from, Duration.between(magnet.wall(), now.wall()).toMillis() * 1e-3);
    double crept = SlowRelaxation.creptPart(to) - SlowRelaxation.creptPart(from);
    try {
      FluxDensity level = magnet.level().magnitude();
      return keeping(magnet, book)
          .map(
              keeping ->
                  crept
                      + keeping.lossTo(level, SlowRelaxation.actsAs(from, to)).tesla()
                          / level.tesla())
          .orElse(AGEING_UNKNOWN);
    } catch (IllegalArgumentException beyondTheModel) {
      return AGEING_UNKNOWN;
    }
  }

  /**
   * What would take so much of its magnets, in words; empty where the model does not say.
   *
   * @param change of their mean, relative, below zero
   */
  public Optional<String> whatTakes(double change, AlloyBook book) {
    if (magnets.isEmpty() || change >= 0 || change <= -1) {
      return Optional.empty();
    }
    try {
      List<Kept> kept = new ArrayList<>();
      for (Magnet magnet : magnets) {
        keeping(magnet, book)
            .ifPresent(keeping -> kept.add(new Kept(keeping, magnet.level().magnitude())));
      }
      return kept.size() == magnets.size()
          ? Optional.of(whatTakes(kept, change))
          : Optional.empty();
    } catch (IllegalArgumentException beyondTheModel) {
      return Optional.empty();
    }
  }

  /** A magnet and how it keeps its level. */
  private record Kept(Keeping keeping, FluxDensity level) {
    double lostTo(double amperesPerMetre) {
      return keeping.lossTo(level, new FieldStrength(amperesPerMetre)).tesla() / level.tesla();
    }

    double lostByHeat(double kelvin) {
      FieldStrength as = keeping.ofTemperature(level, kelvin);
      return keeping.lossTo(level, as).tesla() / level.tesla();
    }
  }

  private static String whatTakes(List<Kept> kept, double change) {
    String field =
        least(FIELD_MAX, -change, opposing -> mean(kept, each -> each.lostTo(opposing)))
            .map(
                least ->
                    Told.format(
                        "a field of %.0f kA/m against its magnets, as of a strong magnet brought"
                            + " close, takes that much",
                        least * 1e-3))
            .orElse("no field that the model knows takes that much");
    String heat =
        least(KELVIN_MAX, -change, kelvin -> mean(kept, each -> each.lostByHeat(kelvin)))
            .map(
                kelvin ->
                    Told.format(
                        "a temperature %.0f K away from the room's would do it too", kelvin))
            .orElse("no temperature between −40 and 120 °C takes it by itself");
    return "By the model " + field + "; " + heat + ".";
  }

  private static double mean(List<Kept> kept, ToDoubleFunction<Kept> lost) {
    return kept.stream().mapToDouble(lost).average().orElse(0);
  }

  /** The least figure up to this one for which so much is lost; empty if the largest takes less. */
  private static Optional<Double> least(double largest, double wanted, DoubleUnaryOperator lost) {
    if (lost.applyAsDouble(largest) < wanted) {
      return Optional.empty();
    }
    double below = 0;
    double enough = largest;
    for (int halving = 0; halving < HALVINGS; halving++) {
      double middle = (below + enough) / 2;
      if (lost.applyAsDouble(middle) >= wanted) {
        enough = middle;
      } else {
        below = middle;
      }
    }
    return Optional.of(enough);
  }
}
