package lodestep.paper;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.RigKind;
import lodestep.ledger.Pickup;
import lodestep.port.Stickers;

/** Labels for trays, from magnets that were accepted, and for baseplates. Pure. */
public final class LabelsFor {

  private LabelsFor() {}

  /**
   * One for each magnet.
   *
   * @param by the hand gauge that tells the levels; empty for the rig's own
   * @throws IllegalArgumentException with one sentence, if a level is outside that gauge's relation
   */
  public static Stickers trays(
      List<Certificate.Level> levels, Optional<ByHandGauge> by, RigKind kind) {
    List<Stickers.Sticker> stickers = new ArrayList<>();
    for (int at = 0; at < levels.size(); at++) {
      Certificate.Level level = levels.get(at);
      int place = at;
      double reads =
          by.map(hand -> hand.reads(place, level).value().tesla()).orElseGet(level::tesla);
      stickers.add(
          new Stickers.Sticker(
              level.history().identity().name(),
              List.of(
                  level.history().identity().alloy(),
                  AskedWords.size(level.history().identity()),
                  Told.level(reads),
                  "by " + by.map(ByHandGauge::gauge).orElse("the rig's gauge"),
                  Told.day(level.wall())),
              "lodestep magnet " + level.history().magnet()));
    }
    return new Stickers(across(kind), stickers);
  }

  /** One for a pickup's baseplate. */
  public static Stickers baseplate(Pickup pickup, RigKind kind) {
    List<String> lines = new ArrayList<>();
    if (!pickup.built().order().isEmpty()) {
      lines.add(pickup.built().order());
    }
    lines.add(pickup.built().poles() + " poles");
    lines.add(Told.day(pickup.wall()));
    return new Stickers(
        across(kind),
        List.of(
            new Stickers.Sticker(
                pickup.built().name(), lines, "lodestep pickup " + pickup.number())));
  }

  private static Optional<String> across(RigKind kind) {
    return kind == RigKind.VIRTUAL ? Optional.of("VIRTUAL") : Optional.empty();
  }
}
