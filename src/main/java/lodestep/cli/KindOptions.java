package lodestep.cli;

import java.nio.file.Path;
import java.util.Optional;
import java.util.function.Supplier;
import lodestep.bench.Lots;
import lodestep.bench.MagnetAsked;
import lodestep.config.RigConfig;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.FaceModel;
import lodestep.quantity.Length;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What kind of magnet is asked about, and of which rig. Filled by the command line. */
final class KindOptions {

  /** An alnico is read no further off: there is next to nothing left. */
  private static final Length STAND_OFF_MAX = Length.ofMm(50);

  @Option(
      names = "--alloy",
      paramLabel = "ALLOY",
      required = true,
      description = "for example \"alnico 3\", or a [[lot]] of the rig")
  private String alloy = "";

  @Option(
      names = "--shape",
      paramLabel = "SHAPE",
      defaultValue = "rod",
      description =
          "rod, ring, bar, \"bar through thickness\", \"bar along length\"; rod if left out")
  private String shape = "";

  @Option(
      names = "--size",
      paramLabel = "SIZE",
      required = true,
      description =
          "\"4.6 x 15.5 mm\"; of a ring outside x inside x length, of a bar length x width x"
              + " thickness")
  private String size = "";

  @Option(
      names = "--stand-off",
      paramLabel = "DISTANCE",
      description = "from the pole face to the gauge; that of the rig's nest if left out")
  private @Nullable String standOff;

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description = "rig.toml; the virtual reference rig if left out")
  private @Nullable Path rigFile;

  RigConfig rig(Desk desk) {
    return desk.program().rig(Optional.ofNullable(rigFile));
  }

  /** The ledger that was named, or the rig's usual one. */
  Path ledger(Desk desk, @Nullable Path named) {
    return desk.ledger(named, rigFile);
  }

  FaceModel kind(RigConfig rig) {
    return kind(rig, alloy);
  }

  /** The same shape in another alloy. */
  FaceModel kind(RigConfig rig, String alloyAsked) {
    AlloyBook book = Lots.of(rig);
    return FaceModel.of(
            said("--alloy", () -> MagnetAsked.alloy(book, alloyAsked)),
            said("--size", () -> MagnetAsked.shape(shape, size)))
        .seenBy(Lots.element(rig));
  }

  /** As said, or of the first nest that takes the shape. */
  Length standOff(RigConfig rig, FaceModel kind) {
    String asked = standOff;
    if (asked == null) {
      return MagnetAsked.reaches(kind.shape(), rig).stream()
          .findFirst()
          .map(reach -> reach.nest().standOff())
          .orElseThrow(
              () ->
                  new Refusal(
                      "--stand-off: this rig has no nest for such a shape; say how far the gauge"
                          + " is from the pole face"));
    }
    Length said = said("--stand-off", () -> Length.parse(asked));
    if (said.compareTo(STAND_OFF_MAX) > 0 || said.metres() < 0) {
      throw new Refusal("--stand-off: it is 0 to " + STAND_OFF_MAX.written() + ", not " + asked);
    }
    return said;
  }

  /** What an option says; a refusal names it. */
  static <Q> Q said(String option, Supplier<Q> read) {
    try {
      return read.get();
    } catch (IllegalArgumentException wrong) {
      throw new Refusal(option + ": " + wrong.getMessage());
    }
  }
}
