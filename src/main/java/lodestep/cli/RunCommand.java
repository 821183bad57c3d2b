package lodestep.cli;

import java.nio.file.Path;
import java.util.Optional;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Runs the rig with its page, for a touch screen at the bench or a phone beside it. */
@Command(
    name = "run",
    description = "Runs the rig and serves its page, until Ctrl-C.",
    footer = {
      "",
      "Examples: lodestep run                 # the virtual rig, for this computer alone",
      "          lodestep run --speed 10      # ten virtual seconds in a second",
      "          lodestep run --rig rig.toml --listen    # your rig, for the phone as well"
    })
final class RunCommand extends Asked {

  private static final int PORT_MAX = 65_535;
  private static final double SPEED_MAX = 50;

  private final Desk desk;

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description = "rig.toml; the virtual rig if left out")
  private @Nullable Path rigFile;

  @Option(names = "--ledger", paramLabel = "FILE", description = "the ledger's file")
  private @Nullable Path ledger;

  @Option(
      names = "--port",
      paramLabel = "NUMBER",
      defaultValue = "8417",
      description = "of the page; 8417 if left out, 0 takes a free one")
  private int port;

  @Option(
      names = "--listen",
      description = "lets the network open the page; each device is paired by a code shown here")
  private boolean listen;

  @Option(
      names = "--seed",
      paramLabel = "NUMBER",
      defaultValue = "1",
      description = "of a virtual rig: another seed, another stock")
  private long seed;

  @Option(
      names = "--speed",
      paramLabel = "NUMBER",
      defaultValue = "1",
      description = "of a virtual rig: virtual seconds in a second, at most 50")
  private double speed;

  RunCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
    if (port < 0 || port > PORT_MAX) {
      throw new Refusal("--port is 0 to " + PORT_MAX + ", not " + port);
    }
    if (!(speed > 0 && speed <= SPEED_MAX)) {
      throw new Refusal("--speed is above 0 and at most 50, not " + speed);
    }
    if (speed != 1 && rig.kind() != RigKind.VIRTUAL) {
      throw new Refusal("a real rig has its own time; leave out --speed");
    }
    Path file = ledger == null ? desk.program().usualLedger(rig) : ledger;
    Cautions.showFor(rig, desk.out());
    desk.program()
        .serve(
            new Program.Serve(rig, file, seed, port, listen, speed),
            line -> {
              desk.out().println(line);
              desk.out().flush();
            });
    return Desk.DONE;
  }
}
