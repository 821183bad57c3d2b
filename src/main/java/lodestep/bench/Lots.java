package lodestep.bench;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import lodestep.config.LotConfig;
import lodestep.config.RigConfig;
import lodestep.magnet.Alloy;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Figure;
import lodestep.magnet.FigureSource;
import lodestep.magnet.HallElement;
import lodestep.magnet.Hysteresis;
import lodestep.magnet.LoopCurve;

/** The alloys a rig knows: those of published figures, and the lots that its file tells of. */
public final class Lots {

  private Lots() {}

  /**
   * The book of this rig's alloys.
   *
   * @throws IllegalArgumentException with one sentence, if a lot names no alloy or its figures
   *     contradict each other
   */
  public static AlloyBook of(RigConfig rig) {
    AlloyBook standard = AlloyBook.standard();
    List<Alloy> all = new ArrayList<>(standard.alloys());
    for (LotConfig lot : rig.lots()) {
      if (standard.find(lot.name()).isPresent()) {
        throw new IllegalArgumentException(
            "the lot '" + lot.name() + "' is called like an alloy; give it another name");
      }
      all.add(alloy(lot, standard));
    }
    return rig.lots().isEmpty() ? standard : new AlloyBook(all);
  }

  /** What was measured, figure by figure or by a curve, which says several. */
  private static Map<Figure, Double> measured(LotConfig lot) {
    Map<Figure, Double> measured = new EnumMap<>(Figure.class);
    lot.figures()
        .forEach(
            (key, value) -> {
              Figure figure = Figure.values()[LotConfig.KEYS.indexOf(key)];
              measured.put(figure, figure.read(value));
            });
    if (!lot.curve().isEmpty()) {
      ofCurve(lot)
          .forEach(
              (figure, value) -> {
                if (measured.put(figure, value) != null) {
                  throw new IllegalArgumentException(
                      "its curve already says its "
                          + figure.words()
                          + "; leave one of the two out");
                }
              });
    }
    return measured;
  }

  /** The figures of the loop that follows a lot's curve best. */
  private static Map<Figure, Double> ofCurve(LotConfig lot) {
    List<LoopCurve.Point> points =
        lot.curve().stream()
            .map(point -> new LoopCurve.Point(point.net(), point.induction()))
            .toList();
    return new LoopCurve(points).identified().figures();
  }

  /** The element of this rig's gauge. */
  public static HallElement element(RigConfig rig) {
    return HallElement.of(rig.gauge().element());
  }

  private static Alloy alloy(LotConfig lot, AlloyBook standard) {
    Alloy like =
        standard
            .find(lot.alloy())
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "the lot '"
                            + lot.name()
                            + "' is said to be of '"
                            + lot.alloy()
                            + "', which is no alloy known here; known are: "
                            + String.join(", ", standard.names())));
    try {
      FigureSource source = new FigureSource(FigureSource.Kind.MEASURED, lot.measured());
      Alloy alloy = like.lot(lot.name(), measured(lot), source);
      // A loop that nothing can have is refused here, not in the middle of a plan.
      Hysteresis.of(alloy);
      return alloy;
    } catch (IllegalArgumentException wrong) {
      throw new IllegalArgumentException(
          "the lot '" + lot.name() + "' cannot be: " + wrong.getMessage(), wrong);
    }
  }
}
