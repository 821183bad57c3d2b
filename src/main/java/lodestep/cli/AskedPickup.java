package lodestep.cli;

import java.nio.file.Path;
import java.util.List;
import lodestep.config.RigConfig;
import lodestep.magnet.FaceModel;
import lodestep.paper.BuildNotes;
import lodestep.port.LedgerArchive;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.voice.LevelField;
import lodestep.voice.PickupField;
import lodestep.voice.StringPull;
import lodestep.voice.StringSet;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** A pickup as it is described on a command line: magnet, poles, strings. */
final class AskedPickup {

  @Mixin private KindOptions asked = new KindOptions();

  @Mixin private AskedStrings strings = new AskedStrings();

  @Option(names = "--ledger", paramLabel = "FILE", description = "the ledger's file")
  private @Nullable Path ledger;

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
    return strings.described(kind, asked.standOff(rig, kind));
  }

  /** The past builds that come nearest to such a magnet of this level; none without a record. */
  List<String> past(Desk desk, Described pickup, FluxDensity level) {
    Path file = asked.ledger(desk, ledger);
    if (!desk.program().isLedger(file)) {
      return List.of();
    }
    try (LedgerArchive archive = desk.program().archive(file)) {
      BuildNotes.Like like =
          new BuildNotes.Like(
              pickup.kind().alloy().name(), pickup.kind().shape().kind(), level.tesla());
      return NoteTable.nearest(BuildNotes.of(archive).nearest(like));
    }
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
