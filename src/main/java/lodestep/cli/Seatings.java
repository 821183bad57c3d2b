package lodestep.cli;

import static lodestep.cli.GaugeCommands.understood;

import java.nio.file.Path;
import lodestep.bench.GaugeBudget;
import lodestep.bench.GuidedStudy;
import lodestep.bench.ReadingSheet;
import lodestep.config.NestConfig;
import lodestep.ledger.StudyRecord;
import lodestep.measure.PlacementStudy;
import lodestep.measure.StandardUncertainty;
import org.jspecify.annotations.Nullable;

/** How well one seating in a nest is known, and by what. */
final class Seatings {

  private Seatings() {}

  /**
   * By a file of a placement study, else by the newest guided one of the nest on record, else as is
   * usual.
   */
  static GaugeBudget.Seating of(Desk desk, NestConfig nest, Path ledger, @Nullable Path file) {
    if (file == null) {
      return desk.program()
          .gauge()
          .studies(ledger)
          .placement(nest.name(), nest.standOff().microMetres())
          .map(Seatings::studied)
          .orElseGet(
              () ->
                  new GaugeBudget.Seating(
                      StandardUncertainty.known(PlacementStudy.USUAL_SEATING),
                      "usual, until studied"));
    }
    PlacementStudy studied =
        understood(
            () ->
                PlacementStudy.of(
                    ReadingSheet.study(desk.program().gauge().textOf(file)).readings()));
    return new GaugeBudget.Seating(studied.seating(), "placement study");
  }

  private static GaugeBudget.Seating studied(StudyRecord.Study on) {
    return new GaugeBudget.Seating(
        PlacementStudy.of(GuidedStudy.measured(on.readings())).seating(),
        "placement study, entry " + on.number());
  }
}
