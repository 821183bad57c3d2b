package lodestep.paper;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import lodestep.dial.Percent;
import lodestep.dial.Task;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/** What a magnet is and what was asked of it, in words, from its name's entry alone. */
public final class AskedWords {

  private static final double PARTS_PER_MILLION = 1e6;

  private AskedWords() {}

  /** Alloy, shape, size, pole and target: all that tells two magnets of one name apart. */
  public static String of(MagnetNamed named) {
    return String.join(
        ", ",
        List.of(
            named.alloy() + " " + named.shape() + " " + size(named),
            "pole up " + named.poleUp(),
            task(named)));
  }

  /** Its sizes: "4.90 x 16.50 mm". */
  public static String size(MagnetNamed named) {
    return size(named.sizesMicroMetres());
  }

  /** Sizes in micrometres likewise. */
  public static String size(List<Long> sizesMicroMetres) {
    return sizesMicroMetres.stream()
            .map(size -> String.format(Locale.ROOT, "%.2f", Length.ofMicroMetres(size).mm()))
            .collect(Collectors.joining(" x "))
        + " mm";
  }

  static String task(MagnetNamed named) {
    return switch (named.task()) {
      case "level" -> "target " + gauss(named.targetMicroTesla()) + tolerance(named);
      case "down-by" -> "target down " + drop(named) + tolerance(named);
      case Task.DEMAGNETISE_WORD ->
          "target demagnetise, within " + gauss(named.unchargedMicroTesla());
      case Task.FULL_CHARGE_WORD -> "target full charge";
      // A task of a later program.
      default -> "target " + named.task();
    };
  }

  private static String drop(MagnetNamed named) {
    return named.dropMicroTesla() > 0
        ? gauss(named.dropMicroTesla())
        : Percent.words(named.dropPartsPerMillion() / PARTS_PER_MILLION);
  }

  private static String tolerance(MagnetNamed named) {
    return " ± "
        + (named.toleranceMicroTesla() > 0
            ? gauss(named.toleranceMicroTesla())
            : Percent.words(named.tolerancePartsPerMillion() / PARTS_PER_MILLION));
  }

  private static String gauss(long microTesla) {
    return FluxDensity.ofMicroTesla(microTesla).inGauss();
  }
}
