package lodestep.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.bench.PlanRow;
import lodestep.bench.Prepared;
import lodestep.bench.ShownCurve;
import lodestep.config.RigConfig;
import lodestep.dial.Explained;
import lodestep.ledger.EventCodec;
import lodestep.ledger.MagnetHistory;
import lodestep.magnet.UnknownAlloy;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.Plot;
import lodestep.port.StoredEvent;
import lodestep.quantity.FluxDensity;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Why a magnet got the pulses that it got. */
@Command(
    name = "explain",
    description = "Why a magnet got its pulses: what was expected of each, and why it ended.",
    footer = {
      "",
      "Each charge, knock-down, proof and demagnetising pulse, of the rig or by hand,",
      "with what the magnet read before and after. What was expected of each is told",
      "where the rig had a curve to go by; where it had none, why.",
      "",
      "Example: lodestep explain split-3 --plot split-3.svg"
    })
final class ExplainCommand extends Asked {

  private final Desk desk;

  @Parameters(paramLabel = "MAGNET", description = "its number or its name")
  private String magnet = "";

  @Option(names = "--ledger", paramLabel = "FILE", description = RecordCommands.LEDGER)
  private @Nullable Path ledger;

  @Option(names = "--rig", paramLabel = "RIG", description = RecordCommands.RIG)
  private @Nullable Path rig;

  @Option(names = "--plot", paramLabel = "FILE", description = "draws it: .svg or .png")
  private @Nullable Path file;

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  ExplainCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    Path of = desk.ledger(ledger, rig);
    ExplainWords newest = newest(of, desk.program().rig(Optional.ofNullable(rig)));
    Optional<Plot> plot = newest.plot();
    if (file != null && plot.isEmpty()) {
      throw new Refusal("--plot: nothing was read of it, so that there is nothing to draw");
    }
    plot.ifPresent(drawn -> MagnetCommands.drawn(desk, drawn, file));
    if (json) {
      desk.print(newest.document());
    } else {
      desk.print(newest.lines());
    }
    return Desk.DONE;
  }

  /** Of several magnets of one name the newest. */
  private ExplainWords newest(Path of, RigConfig config) {
    List<MagnetHistory> histories = RecordCommands.histories(desk, of, magnet);
    MagnetHistory history = histories.get(histories.size() - 1);
    try (LedgerArchive archive = desk.program().archive(of)) {
      List<ShownCurve> all = ShownCurve.all(archive);
      Optional<ShownCurve> shown = ShownCurve.newestOf(all, history.magnet());
      Either known =
          shown
              .map(one -> expected(archive, history, one, all, config, of))
              .orElseGet(() -> new Either(Optional.empty(), ExplainWords.noCurve(history)));
      return new ExplainWords(
          history, known.expected(), known.why(), RecordCommands.kept(history, config));
    }
  }

  /**
   * What was expected of it.
   *
   * @param why nothing can be told; empty if it can
   */
  private record Either(Optional<ExplainWords.Expected> expected, String why) {}

  private Either expected(
      LedgerArchive archive,
      MagnetHistory history,
      ShownCurve shown,
      List<ShownCurve> all,
      RigConfig config,
      Path of) {
    return row(archive, history, config, of)
        .map(
            row -> {
              Prepared prepared = Prepared.of(row, config);
              Explained explained =
                  Explained.of(
                      prepared.family(),
                      prepared.expectedFull(),
                      prepared.knockDown(),
                      prepared.row().alloy().coercivityJ(),
                      FluxDensity.ofMicroTesla(Math.abs(history.identity().targetMicroTesla())),
                      shown.before(all),
                      shown.curve());
              boolean known = !UnknownAlloy.is(row.alloy());
              return new Either(
                  Optional.of(new ExplainWords.Expected(shown, explained, known)), "");
            })
        .orElseGet(
            () ->
                new Either(
                    Optional.empty(),
                    "What was expected of it is not told: this rig is not the one that it was"
                        + " dialed on; name that one with --rig."));
  }

  /** The row of its plan, as it stands in the ledger; empty if this rig cannot have worked it. */
  private Optional<PlanRow> row(
      LedgerArchive archive, MagnetHistory history, RigConfig config, Path of) {
    LedgerEvent.MagnetNamed identity = history.identity();
    List<StoredEvent> begun = new ArrayList<>();
    archive.forEach(identity.batch(), identity.batch(), begun::add);
    if (begun.isEmpty()
        || !(EventCodec.decode(begun.get(0)).event() instanceof LedgerEvent.BatchStarted batch)) {
      return Optional.empty();
    }
    return desk.program()
        .recordedPlan(batch.name(), batch.planText(), config, of)
        .match(
            plan -> plan.rows().stream().filter(row -> row.line() == identity.row()).findFirst(),
            refused -> Optional.empty());
  }
}
