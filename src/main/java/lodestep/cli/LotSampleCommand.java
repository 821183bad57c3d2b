package lodestep.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lodestep.bench.Lots;
import lodestep.bench.Plan;
import lodestep.bench.PlanReading;
import lodestep.config.RigConfig;
import lodestep.magnet.AlloyBook;
import lodestep.paper.LotReport;
import lodestep.paper.Things;
import lodestep.port.LedgerArchive;
import lodestep.port.StockEvent.LotReceived;
import lodestep.quantity.Nearest;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** A sample of a lot: some of its magnets charged in full and read, one after the other. */
@Command(
    name = "sample",
    description = "Charges some magnets of a lot in full, and says what they read like.",
    footer = {
      "",
      "Each is charged as hard as the rig can and read; the first ones are charged",
      "twice, the second time stronger by half, which proves that they are full. They",
      "stay on record as magnets of the lot, and can be dialed as any other later.",
      "",
      "Example: lodestep lot sample K-31 --count 5 --size \"5.1 x 18 mm\""
    })
final class LotSampleCommand extends Asked {

  /** Leaves a name room for what tells it from others. */
  private static final int LOT_IN_NAME_MAX = 24;

  private final Desk desk;

  @Parameters(paramLabel = "LOT", description = "its name, put on record by lot in")
  private String lot = "";

  @Option(
      names = "--count",
      paramLabel = "NUMBER",
      defaultValue = "5",
      description = "how many magnets; 5 if left out")
  private int count;

  @Option(
      names = "--shape",
      paramLabel = "SHAPE",
      defaultValue = "rod",
      description =
          "rod, ring, bar, \"bar through thickness\", \"bar along length\"; rod if left out")
  private String shape = "";

  @Option(names = "--size", paramLabel = "SIZE", required = true, description = "\"5.1 x 18 mm\"")
  private String size = "";

  @Option(
      names = "--pole-up",
      paramLabel = "POLE",
      defaultValue = "north",
      description = "north or south; north if left out")
  private String poleUp = "";

  @Option(
      names = "--nest",
      paramLabel = "NEST",
      defaultValue = "",
      description = "when several fit the shape")
  private String nest = "";

  @Mixin private RunOptions options = new RunOptions();

  LotSampleCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    RigConfig rig = options.rig(desk.program());
    Path ledger = options.ledger(desk.program(), rig);
    LotReceived received = received(ledger);
    Plan plan = plan(rig, ledger, received);
    Program.Run run = options.run(desk.program(), rig, Optional.of(plan));
    Program.Outcome outcome =
        WorkCommands.run(desk, options, run, new BatchReport(WorkCommands.told(desk, options)));
    if (!options.json()) {
      AlloyBook book = Lots.of(rig);
      LotReport report = read(ledger, things -> things.lot(received.lot()));
      desk.out().println();
      desk.print(StockCommands.Show.words(report, book));
    }
    return WorkCommands.code(outcome);
  }

  /** The newest entry that says this lot came in. */
  private LotReceived received(Path ledger) {
    boolean kept = desk.program().isLedger(ledger);
    List<String> names = kept ? read(ledger, Things::lots) : List.of();
    List<LotReceived> entries =
        kept ? read(ledger, things -> things.lot(lot)).received() : List.of();
    return entries.stream()
        .reduce((earlier, later) -> later)
        .orElseThrow(
            () ->
                new Refusal(
                    "nothing says that a lot '"
                        + lot.strip()
                        + "' came in"
                        + Nearest.hint(lot.strip(), names)
                        + "; put it on record first: lodestep lot in --help"));
  }

  private <T> T read(Path ledger, Function<Things, T> reading) {
    try (LedgerArchive archive = desk.program().archive(ledger)) {
      return reading.apply(new Things(archive));
    }
  }

  private Plan plan(RigConfig rig, Path ledger, LotReceived received) {
    String of = received.lot().substring(0, Math.min(LOT_IN_NAME_MAX, received.lot().length()));
    String name = desk.program().namesOnRecord(ledger).free(of.strip() + " sample");
    String text =
        "name,alloy,shape,size,nest,pole up,target,tolerance,count,lot\n"
            + OneMagnet.row(
                List.of(
                    name,
                    received.alloy(),
                    shape,
                    size,
                    nest,
                    poleUp,
                    "full charge",
                    "",
                    String.valueOf(count),
                    received.lot()));
    PlanReading reading = desk.program().planText(name, text, rig, ledger);
    return reading.match(
        good -> good,
        refused -> {
          throw OneMagnet.refusal(refused);
        });
  }
}
