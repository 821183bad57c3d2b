package lodestep.cli;

import static lodestep.cli.GaugeCommands.understood;

import java.nio.file.Path;
import lodestep.bench.NestSeatings;
import lodestep.bench.ReadingSheet;
import lodestep.config.NestConfig;
import lodestep.measure.PlacementStudy;
import lodestep.measure.Seating;
import org.jspecify.annotations.Nullable;

/** How well one seating in a nest is known, and by what. */
final class Seatings {

  private Seatings() {}

  /**
   * By a file of a placement study, else by the newest guided one of the nest on record, else as is
   * usual.
   */
  static Seating of(Desk desk, NestConfig nest, Path ledger, @Nullable Path file) {
    if (file == null) {
      return NestSeatings.of(desk.program().gauge().studies(ledger)).in(nest);
    }
    PlacementStudy studied =
        understood(
            () ->
                PlacementStudy.of(
                    ReadingSheet.study(desk.program().gauge().textOf(file)).readings()));
    return new Seating(studied.seating(), "placement study");
  }
}
