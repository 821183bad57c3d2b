package lodestep.cli;

import java.nio.file.Path;
import java.util.Optional;
import java.util.function.Function;
import lodestep.config.RigConfig;
import lodestep.paper.Papers;
import lodestep.paper.Things;
import lodestep.port.LedgerArchive;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** Which rig and which of its records a command means. Filled by the command line. */
final class RecordOf {

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description = "rig.toml; the virtual rig if left out")
  private @Nullable Path rigFile;

  @Option(names = "--ledger", paramLabel = "FILE", description = "the ledger's file")
  private @Nullable Path ledger;

  RigConfig rig(Desk desk) {
    return desk.program().rig(Optional.ofNullable(rigFile));
  }

  Path ledger(Desk desk) {
    return desk.ledger(ledger, rigFile);
  }

  /** What is read of the record. */
  <T> T read(Desk desk, Function<Things, T> reading) {
    try (LedgerArchive archive = desk.program().archive(ledger(desk))) {
      Things things = new Things(archive);
      return GaugeCommands.understood(() -> reading.apply(things));
    }
  }

  /** The thing of this name. */
  static Things.Thing found(Things things, String name) {
    return Papers.found(things, name);
  }

  /** What goes on paper of this rig. */
  Papers papers(Desk desk) {
    RigConfig rig = rig(desk);
    return new Papers(rig.name(), rig.kind(), desk.program().version());
  }
}
