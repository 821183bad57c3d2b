package lodestep.adapter.sqlite;

import java.io.PrintStream;
import java.nio.file.Path;
import java.time.Instant;
import lodestep.ledger.SampleEvents;
import lodestep.port.LedgerEvent;

/** Appends intents and their ends until it is killed, and prints how far they are durable. */
final class EndlessWriter {

  private EndlessWriter() {}

  /** Takes the ledger's path. */
  public static void main(String[] arguments) {
    PrintStream out = System.out;
    SqliteLedger ledger =
        new SqliteLedger(
            SqliteStore.open(Path.of(arguments[0]), KilledWriterTest.BINDING, 0, Instant.EPOCH));
    for (long pulse = 1; ledger.state().fault().isEmpty(); pulse++) {
      long intent = ledger.nextNumber();
      append(ledger, SampleEvents.pulse(3, 1, pulse, "knock down"));
      report(ledger, intent, out);
      append(ledger, SampleEvents.ended(intent, 3, "delivered"));
      append(ledger, SampleEvents.reading(3, "knocked down", 50_000 - pulse));
      report(ledger, intent + 2, out);
    }
  }

  private static void append(SqliteLedger ledger, LedgerEvent event) {
    ledger.append(SampleEvents.draft(event, ledger.nextNumber()));
  }

  private static void report(SqliteLedger ledger, long number, PrintStream out) {
    if (ledger.awaitDurable(number, 60)) {
      out.println("durable to " + number + ".");
      out.flush();
    }
  }
}
