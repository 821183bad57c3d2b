package lodestep.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.device.BankLeft;
import lodestep.dial.Progress;
import lodestep.dial.Verdict;
import lodestep.measure.SettledReading;
import lodestep.port.LedgerEvent;

/** Tells a batch's progress as it goes, and its table at the end. */
final class BatchReport implements Program.Watcher {

  private static final int COLUMNS = 96;

  private final PrintWriter out;

  BatchReport(PrintWriter out) {
    this.out = out;
  }

  @Override
  public void event(LedgerEvent event, double rigSeconds) {
    // Of a batch the verdicts are told; its steps are in the history of each magnet.
  }

  @Override
  public void verdict(Batch batch, int done, double rigSeconds) {
    Entry newest = null;
    for (Entry entry : batch.entries()) {
      newest = entry.done() && entry.result().isPresent() ? entry : newest;
    }
    int of = batch.entries().size();
    double left = done == 0 ? 0 : rigSeconds / done * (of - done);
    if (newest != null) {
      out.printf(
          Locale.ROOT,
          "  %d of %d  %-12s %-16s %s, about %s to go%n",
          done,
          of,
          newest.name(),
          newest.end().map(end -> end.verdict().word()).orElse(""),
          level(newest),
          minutes(left));
      out.flush();
    }
  }

  @Override
  public void trip(String sentence) {
    out.println("  " + sentence);
    out.flush();
  }

  /** The whole batch, one row a magnet. */
  static Table table(Batch batch) {
    List<List<String>> rows = new ArrayList<>();
    for (Entry entry : batch.entries()) {
      Optional<Progress> result = entry.result();
      rows.add(
          List.of(
              String.valueOf(entry.magnet()),
              entry.name(),
              entry.prepared().row().alloy().name(),
              entry.prepared().row().task().targetWords(),
              entry.prepared().row().task().toleranceWords(),
              level(entry),
              result.map(progress -> String.valueOf(progress.counts().charges())).orElse(""),
              result
                  .map(
                      progress ->
                          String.valueOf(
                              progress.counts().knockDowns() + progress.counts().demagnetising()))
                  .orElse(""),
              entry.end().map(end -> end.verdict().word()).orElse("open")));
    }
    return new Table(
        List.of(
            Table.Column.ofNumbers("magnet"),
            Table.Column.ofWords("name"),
            Table.Column.ofWords("alloy"),
            Table.Column.ofNumbers("target"),
            Table.Column.ofNumbers("tolerance"),
            Table.Column.ofNumbers("reading"),
            Table.Column.ofNumbers("charges"),
            Table.Column.ofNumbers("knock-downs"),
            Table.Column.ofWords("verdict")),
        rows);
  }

  /** One line: how many of each, and the time. */
  static String summary(Program.Outcome outcome) {
    Batch batch = outcome.batch();
    return String.format(
        Locale.ROOT,
        "%d accepted, %d refused, %d recharge needed, %d open; %s of rig time in %.1f s here",
        batch.count(Verdict.ACCEPTED),
        batch.count(Verdict.REFUSED),
        batch.count(Verdict.RECHARGE_NEEDED),
        batch.open(),
        minutes(outcome.rigSeconds()),
        outcome.wallSeconds());
  }

  /** What of the rig is nearly used up, by what this batch has shown of it. */
  static List<String> minds(Batch batch) {
    BankLeft bank = batch.memory().wear().bank();
    return bank.minds() ? Wrapped.lines("", "Mind: " + bank.sentence() + ".", COLUMNS) : List.of();
  }

  private static String level(Entry entry) {
    return entry
        .result()
        .flatMap(Progress::last)
        .map(SettledReading::value)
        .map(value -> value.inGauss())
        .orElse("");
  }

  private static String minutes(double seconds) {
    return seconds < 90
        ? String.format(Locale.ROOT, "%.0f s", seconds)
        : String.format(Locale.ROOT, "%.0f min", seconds / 60);
  }
}
