package lodestep.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Optional;
import lodestep.bench.PoleJob;
import lodestep.bench.PoleSeat;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.ledger.Pickup;
import lodestep.paper.Entered;
import lodestep.paper.ReturnCase;
import lodestep.port.StockEvent.PickupBuilt;
import lodestep.quantity.FieldStrength;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/**
 * What can be said with every reading of pole tops, and how it is shown. Filled by the command
 * line.
 */
final class PoleReading {

  @Mixin private RecordOf record = new RecordOf();

  @Option(
      names = "--seat",
      paramLabel = "WORDS",
      description = "what holds the pickup at the gauge; as last time if left out")
  private @Nullable String seat;

  @Option(
      names = "--spacer",
      paramLabel = "LENGTH",
      description = "between pole top and gauge: \"2.2 mm\"; as last time if left out")
  private @Nullable String spacer;

  @Option(
      names = "--seed",
      paramLabel = "NUMBER",
      defaultValue = "1",
      description = "of a virtual rig: another seed, another placing")
  private long seed;

  @Option(
      names = "--virtual-field",
      paramLabel = "FIELD",
      description =
          "of a virtual rig: an opposing field the pickup has seen since it was built, like \"9"
              + " kA/m\"")
  private @Nullable String field;

  PaperWork.PoleRun run(
      Desk desk,
      long pickup,
      PickupBuilt built,
      long round,
      String stage,
      Optional<Pickup.Round> last,
      List<ReturnCase.Magnet> magnets) {
    RigConfig rig = record.rig(desk);
    PoleSeat held = held(PoleSeat.like(last));
    return new PaperWork.PoleRun(
        rig, record.ledger(desk), pickup, built, round, stage, held, magnets, seed, since(rig));
  }

  RecordOf record() {
    return record;
  }

  private double since(RigConfig rig) {
    if (field == null) {
      return 0;
    }
    if (rig.kind() == RigKind.REAL) {
      throw new Refusal("--virtual-field is of a virtual rig, and this rig is real");
    }
    String written = field;
    double amperes = GaugeCommands.understood(() -> FieldStrength.parse(written)).amperesPerMetre();
    if (!(amperes > 0)) {
      throw new Refusal("--virtual-field: a field above zero, like \"9 kA/m\"");
    }
    return amperes;
  }

  private PoleSeat held(PoleSeat last) {
    return GaugeCommands.understood(
        () -> {
          PoleSeat in = seat == null ? last : last.in(Entered.name(seat));
          return spacer == null ? in : in.over("--", spacer);
        });
  }

  /** Runs it with its sentences on the screen. */
  static PoleJob.Done read(Desk desk, PaperWork.PoleRun run, PrintWriter told) {
    if (run.rig().kind() == RigKind.VIRTUAL) {
      told.println("VIRTUAL: " + run.rig().name() + ", no hardware");
    }
    Cautions.showShort(told);
    Screen screen = new Screen(told, desk.program().terminal());
    PoleReport report = new PoleReport(screen);
    PoleJob.Done done = desk.program().papers().poles(run, report);
    if (!report.sentence().equals(done.sentence())) {
      screen.stay(done.sentence());
    }
    screen.end();
    return done;
  }
}
