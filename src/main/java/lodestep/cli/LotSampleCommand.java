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
import lodestep.paper.LotSample;
import lodestep.paper.Things;
import lodestep.port.LedgerArchive;
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

  private static final String LOT_IN = "lodestep lot in --help";

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
    LotSample sample = sample(ledger);
    Plan plan = plan(rig, ledger, sample);
    Program.Run run = options.run(desk.program(), rig, Optional.of(plan));
    Program.Outcome outcome =
        WorkCommands.run(desk, options, run, new BatchReport(WorkCommands.told(desk, options)));
    if (!options.json()) {
      AlloyBook book = Lots.of(rig);
      LotReport report = read(ledger, archive -> new Things(archive).lot(sample.received().lot()));
      desk.out().println();
      desk.print(StockCommands.Show.words(report, book));
    }
    return WorkCommands.code(outcome);
  }

  private LotSample sample(Path ledger) {
    try {
      if (!desk.program().isLedger(ledger)) {
        throw LotSample.unknown(lot, List.of(), LOT_IN);
      }
      return read(ledger, archive -> LotSample.of(archive, lot, LOT_IN));
    } catch (IllegalArgumentException unknown) {
      throw new Refusal(String.valueOf(unknown.getMessage()));
    }
  }

  private <T> T read(Path ledger, Function<LedgerArchive, T> reading) {
    try (LedgerArchive archive = desk.program().archive(ledger)) {
      return reading.apply(archive);
    }
  }

  private Plan plan(RigConfig rig, Path ledger, LotSample sample) {
    String text =
        "name,alloy,shape,size,nest,pole up,target,tolerance,count,lot\n"
            + OneMagnet.row(
                List.of(
                    sample.name(),
                    sample.received().alloy(),
                    shape,
                    size,
                    nest,
                    poleUp,
                    LotSample.TARGET,
                    "",
                    String.valueOf(count),
                    sample.received().lot()));
    PlanReading reading = desk.program().planText(sample.name(), text, rig, ledger);
    return reading.match(
        good -> good,
        refused -> {
          throw OneMagnet.refusal(refused);
        });
  }
}
