package lodestep.app;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import lodestep.cli.Commands;

/** The program's commands, run in this process, for tests. */
final class CommandRun {

  /** One magnet that comes to its level. */
  static final String[] ONE = {
    "dial",
    "--alloy",
    "alnico 2",
    "--size",
    "5.1 x 18 mm",
    "--pole-up",
    "south",
    "--target",
    "430 G",
    "--tolerance",
    "8 G"
  };

  /** How a command ended and what it said. */
  record Ended(int code, String out, String err) {
    JsonNode json() throws IOException {
      return JsonMapper.builder().build().readTree(out);
    }
  }

  private CommandRun() {}

  static Ended run(String... arguments) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    int code =
        Commands.run(
            new Wiring(Outside.unattended()),
            new PrintWriter(out, true),
            new PrintWriter(err, true),
            arguments);
    return new Ended(code, out.toString(), err.toString());
  }

  static Ended on(Path ledger, String... arguments) {
    return run(with(arguments, "--ledger", ledger.toString()));
  }

  static String[] with(String[] arguments, String... more) {
    List<String> all = new ArrayList<>(List.of(arguments));
    all.addAll(List.of(more));
    return all.toArray(String[]::new);
  }
}
