package lodestep.cli;

import java.util.Objects;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** A group of commands, which by itself only says what there is. */
abstract class Group extends Asked {

  private final Desk desk;
  @Spec private @Nullable CommandSpec spec;

  Group(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    Objects.requireNonNull(spec, "filled by the command line");
    spec.commandLine().usage(desk.out());
    return Desk.DONE;
  }
}
