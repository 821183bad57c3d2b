package lodestep.cli;

import java.util.Optional;
import lodestep.bench.MagnetAsked;
import lodestep.config.RigConfig;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.voice.LevelField;
import lodestep.voice.PickupField;
import lodestep.voice.PolePieces;
import lodestep.voice.StringPull;
import lodestep.voice.StringSet;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** A pickup as it is described on a command line: magnet, poles, strings. */
final class AskedPickup {

  @Mixin private KindOptions asked = new KindOptions();

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

  /** A pickup under its strings. */
  record Described(
      FaceModel kind,
      Length standOff,
      PickupField field,
      StringSet set,
      Length distance,
      Length fromBridge) {

    FluxDensity full() {
      return field.level().full();
    }

    /** What it does to this open string. */
    StringPull open(int string, FluxDensity level) {
      return openAt(string, level, distance);
    }

    StringPull openAt(int string, FluxDensity level, Length away) {
      return GaugeCommands.understood(
          () ->
              field
                  .pulls(string, level, away, set.tuned().get(string).string(), fromBridge, 0)
                  .get(0));
    }

    /** The string that is out of tune by most, fully charged. */
    int most() {
      int most = 0;
      double least = 0;
      for (int at = 0; at < set.tuned().size(); at++) {
        double cents = open(at, full()).cents();
        if (cents < least) {
          least = cents;
          most = at;
        }
      }
      return most;
    }

    /** The same pickup with another kind of magnet. */
    Described with(FaceModel other) {
      LevelField level = new LevelField(other, standOff);
      return new Described(other, standOff, field.with(level), set, distance, fromBridge);
    }
  }

  RigConfig rig(Desk desk) {
    return asked.rig(desk);
  }

  /** The same shape in another alloy. */
  FaceModel kind(RigConfig rig, String alloy) {
    return asked.kind(rig, alloy);
  }

  Described described(Desk desk) {
    RigConfig rig = asked.rig(desk);
    FaceModel kind = asked.kind(rig);
    Length standOff = asked.standOff(rig, kind);
    Length length = KindOptions.said("--scale", () -> Length.parse(scale));
    StringSet set = KindOptions.said("--strings", () -> StringSet.read(strings, length));
    Length apart = KindOptions.said("--pitch", () -> Length.parse(pitch));
    Length away = KindOptions.said("--distance", () -> Length.parse(distance));
    Length place = KindOptions.said("--from-bridge", () -> Length.parse(fromBridge));
    Optional<PolePieces> pieces = pieces(apart, set.tuned().size());
    LevelField level = new LevelField(kind, standOff);
    PickupField field =
        KindOptions.said(
            "--poles", () -> new PickupField(level, set.tuned().size(), apart, pieces));
    return new Described(kind, standOff, field, set, away, place);
  }

  private Optional<PolePieces> pieces(Length apart, int count) {
    String size = poles;
    if (size == null) {
      if (keeper != null) {
        throw new Refusal("--keeper: a keeper goes with --poles; say their size");
      }
      return Optional.empty();
    }
    Shape.Rod pole =
        (Shape.Rod) KindOptions.said("--poles", () -> MagnetAsked.shape("rod", size));
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
                          return new PolePieces.Keeper(
                              bar.length(), bar.width(), bar.thickness());
                        }));
    return Optional.of(
        KindOptions.said(
            "--poles",
            () -> new PolePieces(how, pole.diameter(), pole.length(), apart, count, steel)));
  }

  /** A level of this magnet; its full charge where none is written. */
  static FluxDensity level(Described pickup, @Nullable String written) {
    if (written == null) {
      return pickup.full();
    }
    FluxDensity level = KindOptions.said("--level", () -> FluxDensity.parse(written).magnitude());
    if (!(level.tesla() > 0 && level.compareTo(pickup.full()) <= 0)) {
      throw new Refusal(
          "--level: this magnet reads up to "
              + pickup.full().inGauss()
              + " fully charged, and more than nothing; not "
              + written);
    }
    return level;
  }
}
