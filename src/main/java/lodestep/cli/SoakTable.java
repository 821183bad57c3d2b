package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;

/** A soak's figures for a person. */
final class SoakTable {

  private static final int COLUMNS = 96;
  private static final double HOURS_A_YEAR = 8760;

  private SoakTable() {}

  /** Years of a rig that are played in an hour of real time. */
  static double yearsAnHour(double rigSeconds, double wallSeconds) {
    return wallSeconds > 0 ? rigSeconds / wallSeconds / HOURS_A_YEAR : 0;
  }

  static List<String> lines(SoakWork.SoakFigures figures) {
    List<String> lines = new ArrayList<>();
    lines.addAll(coverage(figures));
    lines.add("");
    lines.addAll(trips(figures));
    lines.add("");
    lines.addAll(totals(figures));
    lines.add("");
    lines.addAll(verdict(figures));
    return lines;
  }

  private static List<String> totals(SoakWork.SoakFigures figures) {
    List<String> lines = new ArrayList<>();
    lines.add(
        String.format(
            Locale.ROOT,
            "Seeds %d to %d on '%s', %d at a time: %,d runs, %.1f rig hours in %.0f s here,",
            figures.firstSeed(),
            figures.lastSeed(),
            figures.rig(),
            figures.threads(),
            figures.runs(),
            figures.rigSeconds() / 3600,
            figures.wallSeconds()));
    lines.add(
        String.format(
            Locale.ROOT,
            "which is %.2f rig years an hour.",
            yearsAnHour(figures.rigSeconds(), figures.wallSeconds())));
    lines.add(
        String.format(
            Locale.ROOT,
            "%,d pulses, %,d magnets accepted, %,d starts of the program; the head's permit fell at"
                + " most",
            figures.pulses(),
            figures.accepted(),
            figures.starts()));
    lines.add(
        String.format(Locale.ROOT, "%d ms after the program had died.", figures.permitGoneMs()));
    figures
        .planted()
        .forEach(
            (words, found) ->
                lines.add(
                    String.format(Locale.ROOT, "Planted and found, %d times: %s.", found, words)));
    return lines;
  }

  private static List<String> trips(SoakWork.SoakFigures figures) {
    List<List<String>> rows = new ArrayList<>();
    figures.trips().forEach((cause, count) -> rows.add(List.of(cause, count.toString())));
    return new Table(List.of(Table.Column.ofWords("trip"), Table.Column.ofNumbers("times")), rows)
        .lines();
  }

  private static List<String> coverage(SoakWork.SoakFigures figures) {
    List<String> lines = new ArrayList<>();
    lines.add(
        "What happened, how often, and where it began, in "
            + figures.states().size()
            + " states of the host:");
    figures
        .coverage()
        .forEach(
            (kind, met) -> {
              long times = met.values().stream().mapToLong(count -> count).sum();
              String label = String.format(Locale.ROOT, "%-24s %6d  ", kind, times);
              lines.addAll(Wrapped.lines(label, where(figures.states(), met), COLUMNS));
            });
    return lines;
  }

  /** The states it met, or those it never met, whichever are fewer. */
  private static String where(List<String> states, Map<String, Long> met) {
    List<String> never = states.stream().filter(state -> !met.containsKey(state)).toList();
    if (met.isEmpty()) {
      return "nowhere";
    }
    if (met.size() < never.size()) {
      return "only in "
          + met.entrySet().stream()
              .map(each -> each.getKey() + " " + each.getValue())
              .collect(Collectors.joining(", "));
    }
    return never.isEmpty() ? "in every state" : "never in " + String.join(", ", never);
  }

  private static List<String> verdict(SoakWork.SoakFigures figures) {
    List<String> lines = new ArrayList<>();
    for (SoakWork.SoakFailure failure : figures.failed()) {
      lines.addAll(lines(failure));
      lines.add("");
    }
    int broken = figures.failed().size();
    lines.add(
        broken == 0
            ? "No rule was broken."
            : broken + (broken == 1 ? " run" : " runs") + " broke a rule, each saved in its file.");
    lines.add(
        (figures.stopped() ? "Ended before its time; go on" : "Go on")
            + " with: lodestep soak --seeds "
            + (figures.lastSeed() + 1)
            + "..");
    return lines;
  }

  static List<String> lines(SoakWork.SoakFailure failure) {
    List<String> lines = new ArrayList<>();
    lines.add(
        String.format(
            Locale.ROOT,
            "seed %d broke %s at %.3f s",
            failure.seed(),
            failure.rule(),
            failure.atMs() * 1e-3));
    lines.addAll(Wrapped.lines("  must hold  ", failure.words(), COLUMNS));
    lines.addAll(Wrapped.lines("  seen       ", failure.seen(), COLUMNS));
    failure.happenings().forEach(happening -> lines.add("  " + happening));
    lines.addAll(Wrapped.lines("  saved in   ", failure.file(), COLUMNS));
    return lines;
  }
}
