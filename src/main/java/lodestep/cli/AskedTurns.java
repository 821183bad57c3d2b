package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.bench.Lots;
import lodestep.bench.MagnetAsked;
import lodestep.config.RigConfig;
import lodestep.magnet.Figure;
import lodestep.magnet.Shape;
import lodestep.quantity.Length;
import lodestep.voice.CoilTurns;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** A coil by its turns, as it is described on a command line. */
final class AskedTurns {

  private static final String STEEL = "soft steel";

  @Option(names = "--turns", paramLabel = "NUMBER", description = "of the coil, if no inductance")
  private @Nullable Long turns;

  @Option(
      names = "--winding",
      paramLabel = "SIZE",
      description = "with --turns: the copper, height x depth, \"11 x 3.6 mm\"")
  private @Nullable String winding;

  @Option(
      names = "--cores",
      paramLabel = "SIZE",
      description = "with --turns: the round cores in it, diameter x length")
  private @Nullable String cores;

  @Option(
      names = "--cores-of",
      paramLabel = "ALLOY",
      defaultValue = STEEL,
      description = "what they are made of; soft steel if left out")
  private String material = "";

  @Option(
      names = "--count",
      paramLabel = "NUMBER",
      defaultValue = "6",
      description = "how many cores; 6 if left out")
  private int count;

  @Option(
      names = "--pitch",
      paramLabel = "LENGTH",
      defaultValue = "10.2 mm",
      description = "from core to core; 10.2 mm if left out")
  private String pitch = "";

  /** The coil; empty if it is not described whole. */
  Optional<CoilTurns> coil(RigConfig rig) {
    Long wound = turns;
    String copper = winding;
    String inside = cores;
    if (wound == null || copper == null || inside == null) {
      return Optional.empty();
    }
    Shape.Rod room =
        (Shape.Rod) KindOptions.said("--winding", () -> MagnetAsked.shape("rod", copper));
    Shape.Rod core =
        (Shape.Rod) KindOptions.said("--cores", () -> MagnetAsked.shape("rod", inside));
    Length apart = KindOptions.said("--pitch", () -> Length.parse(pitch));
    double susceptibility =
        material.strip().equalsIgnoreCase(STEEL)
            ? Double.POSITIVE_INFINITY
            : KindOptions.said("--cores-of", () -> MagnetAsked.alloy(Lots.of(rig), material))
                    .figure(Figure.RECOIL)
                - 1;
    return Optional.of(
        KindOptions.said(
            "--turns",
            () ->
                new CoilTurns(
                    wound, room.diameter(), room.length(), apart, count, core, susceptibility)));
  }

  /** What would have to be said for it. */
  List<String> missing() {
    List<String> missing = new ArrayList<>();
    if (turns == null) {
      missing.add("--turns");
    }
    if (winding == null) {
      missing.add("--winding");
    }
    if (cores == null) {
      missing.add("--cores");
    }
    return Wrapped.lines(
        "",
        "Measure the inductance and say --inductance; or to have it reckoned say "
            + String.join(", ", missing)
            + " as well.",
        MagnetCommands.COLUMNS);
  }
}
