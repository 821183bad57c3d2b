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

  /** One for each magnet. */
  public static Stickers trays(List<Certificate.Level> levels, RigKind kind) {
    List<Stickers.Sticker> stickers = new ArrayList<>();
    for (Certificate.Level level : levels) {
      stickers.add(
          new Stickers.Sticker(
              level.history().identity().name(),
              List.of(
                  level.history().identity().alloy(),
                  AskedWords.size(level.history().identity()),
                  Told.level(level.tesla()),
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
