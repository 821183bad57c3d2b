package lodestep.cli;

import java.util.Optional;
import lodestep.bench.MagnetAsked;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.quantity.Length;
import lodestep.voice.LevelField;
import lodestep.voice.PickupField;
import lodestep.voice.PolePieces;
import lodestep.voice.StringSet;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** What is about the magnet: poles of steel, and the strings above. Filled by the command line. */
final class AskedStrings {

  @Option(
      names = "--poles",
      paramLabel = "SIZE",
      description = "soft steel pole pieces about a bar, diameter x length; none if left out")
  private @Nullable String poles;

  @Option(
      names = "--arranged",
      paramLabel = "WORDS",
      defaultValue = "between two rows",
      description =
          "where the bar lies: \"between two rows\", \"either side of one row\", \"under one row\";"
              + " the first if left out")
  private String arranged = "";

  @Option(
      names = "--keeper",
      paramLabel = "SIZE",
      description = "a steel bar the poles go through, length x width x height; none if left out")
  private @Nullable String keeper;

  @Option(
      names = "--pitch",
      paramLabel = "LENGTH",
      defaultValue = "10.2 mm",
      description = "from string to string at the pickup; 10.2 mm if left out")
  private String pitch = "";

  @Option(
      names = "--distance",
      paramLabel = "DISTANCE",
      defaultValue = "2.8 mm",
      description = "from the pole's face to the middle of a string; 2.8 mm if left out")
  private String distance = "";

  @Option(
      names = "--scale",
      paramLabel = "LENGTH",
      defaultValue = "640 mm",
      description = "that vibrates; 640 mm if left out")
  private String scale = "";

  @Option(
      names = "--from-bridge",
      paramLabel = "LENGTH",
      defaultValue = "150 mm",
      description = "where the pole stands; 150 mm if left out")
  private String fromBridge = "";

  @Option(
      names = "--strings",
      paramLabel = "STRINGS",
      defaultValue = StringSet.USUAL,
      description = "a usual set of six if left out")
  private String strings = "";

  Length pitch() {
    return KindOptions.said("--pitch", () -> Length.parse(pitch));
  }

  /** Such a magnet, read at this stand-off by itself, in its pickup under the strings. */
  AskedPickup.Described described(FaceModel kind, Length standOff) {
    Length length = KindOptions.said("--scale", () -> Length.parse(scale));
    StringSet set = KindOptions.said("--strings", () -> StringSet.read(strings, length));
    Length apart = pitch();
    Length away = KindOptions.said("--distance", () -> Length.parse(distance));
    Length place = KindOptions.said("--from-bridge", () -> Length.parse(fromBridge));
    Optional<PolePieces> pieces = pieces(apart, set.tuned().size());
    LevelField level = new LevelField(kind, standOff);
    PickupField field =
        KindOptions.said(
            "--poles", () -> new PickupField(level, set.tuned().size(), apart, pieces));
    return new AskedPickup.Described(kind, standOff, field, set, away, place);
  }

  private Optional<PolePieces> pieces(Length apart, int count) {
    String size = poles;
    if (size == null) {
      if (keeper != null) {
        throw new Refusal("--keeper: a keeper goes with --poles; say their size");
      }
      return Optional.empty();
    }
    Shape.Rod pole = (Shape.Rod) KindOptions.said("--poles", () -> MagnetAsked.shape("rod", size));
    PolePieces.Arranged how =
        KindOptions.said("--arranged", () -> PolePieces.Arranged.read(arranged));
    Optional<PolePieces.Keeper> steel =
        Optional.ofNullable(keeper)
            .map(
                text ->
                    KindOptions.said(
                        "--keeper",
                        () -> {
                          Shape.Bar bar = (Shape.Bar) MagnetAsked.shape("bar", text);
                          return new PolePieces.Keeper(bar.length(), bar.width(), bar.thickness());
                        }));
    return Optional.of(
        KindOptions.said(
            "--poles",
            () -> new PolePieces(how, pole.diameter(), pole.length(), apart, count, steel)));
  }
}
