package lodestep.cli;

import java.io.PrintWriter;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.dial.Verdict;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;

/** Tells each pulse and each settled reading as it comes: for one magnet. One thread. */
final class StepReport implements Program.Watcher {

  private final PrintWriter out;
  private Optional<ActEvent.Intent> intended = Optional.empty();
  private String pulse = "";

  StepReport(PrintWriter out) {
    this.out = out;
  }

  @Override
  public void event(LedgerEvent event, double rigSeconds) {
    if (event instanceof LedgerEvent.ActByHand byHand) {
      pulse = byHand.act() + " by hand, " + (byHand.drivesNorth() ? "north" : "south");
    } else if (event instanceof ActEvent.Intent intent) {
      intended = Optional.of(intent);
    } else if (event instanceof ActEvent.ActEnded ended) {
      pulse = words(ended);
      if (!ended.outcome().equals("delivered")) {
        say(rigSeconds, pulse + ", " + ended.outcome() + ": " + ended.why());
        pulse = "";
      }
    } else if (event instanceof LedgerEvent.ReadingTaken reading) {
      String read =
          String.format(
              Locale.ROOT,
              "%9s  ± %.1f G (k = 2)",
              FluxDensity.ofMicroTesla(reading.fieldMicroTesla()).inGauss(),
              2 * reading.uncertaintyNanoTesla() * 1e-5);
      say(rigSeconds, String.format(Locale.ROOT, "%-44s  %s", cause(reading), read));
      pulse = "";
    } else if (event instanceof LedgerEvent.BankProven) {
      say(rigSeconds, "bank proven: fill contact opens, switch blocks, bleed works");
    } else if (event instanceof LedgerEvent.VerdictGiven verdict
        && verdict.verdict().equals(Verdict.TRIPPED.word())) {
      say(rigSeconds, verdict.verdict() + ": " + verdict.why());
    }
  }

  private String cause(LedgerEvent.ReadingTaken reading) {
    return pulse.isEmpty() ? reading.stage() : pulse;
  }

  private String words(ActEvent.ActEnded ended) {
    if (intended.isEmpty()) {
      return "pulse";
    }
    ActEvent.Intent intent = intended.get();
    PulseFigures figures = PulseFigures.of(intent, Optional.of(ended));
    return Stream.of(
            intent.purpose(),
            intent.drivesNorth() ? "north" : "south",
            figures.setting(),
            figures.peak())
        .filter(word -> !word.isEmpty())
        .collect(Collectors.joining(", "));
  }

  @Override
  public void verdict(Batch batch, int done, double rigSeconds) {
    // Told now and not with its event: now it is safe on disk.
    batch.entries().stream()
        .map(Entry::end)
        .flatMap(Optional::stream)
        .forEach(end -> say(rigSeconds, end.verdict().word() + ": " + end.why()));
  }

  @Override
  public void trip(String sentence) {
    out.println("  " + sentence);
    out.flush();
  }

  private void say(double rigSeconds, String words) {
    out.printf(Locale.ROOT, "  %6.1f s  %s%n", rigSeconds, words);
    out.flush();
  }
}
