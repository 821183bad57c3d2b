package lodestep.cli;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.bench.Plan;
import lodestep.bench.PlanReading;
import org.jspecify.annotations.Nullable;

/**
 * What every command works with: the program behind it, and where its words go. One thread.
 *
 * @param out what was asked for: tables, or JSON alone
 * @param err everything else, so that output can be piped
 */
record Desk(Program program, PrintWriter out, PrintWriter err) {

  static final int DONE = 0;
  static final int NOT_ACCEPTED = 1;
  static final int BAD_INPUT = 2;
  static final int TRIPPED = 3;

  /** EX_SOFTWARE of BSD's sysexits.h, from memory: nothing a person did wrong. */
  static final int OWN_FAULT = 70;

  void print(List<String> lines) {
    lines.forEach(out::println);
    out.flush();
  }

  void print(JsonNode document) {
    out.println(document.toPrettyString());
    out.flush();
  }

  /** Something a person should know, which hinders nothing. */
  void remark(String sentence) {
    Wrapped.lines("", sentence, MagnetCommands.COLUMNS).forEach(err::println);
    err.flush();
  }

  /** The ledger that was named, or the usual one of the rig that was named. */
  Path ledger(@Nullable Path ledger, @Nullable Path rigFile) {
    return ledger == null ? program.usualLedger(program.rig(Optional.ofNullable(rigFile))) : ledger;
  }

  /**
   * The plan that was read.
   *
   * @throws Refusal with everything that is wrong with it
   */
  static Plan understood(PlanReading reading) {
    return reading.match(
        plan -> plan,
        refused -> {
          throw new Refusal(refused.written());
        });
  }
}
