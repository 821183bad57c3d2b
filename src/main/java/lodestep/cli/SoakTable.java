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
    SoakWork.SoakSums all = figures.all();
    List<String> lines = new ArrayList<>(rigs(figures));
    lines.add("");
    lines.add(
        String.format(
            Locale.ROOT,
            "Seeds %d to %d, %d at a time: %,d runs, %.1f rig hours in %.0f s here, which is %.2f"
                + " rig years",
            figures.firstSeed(),
            figures.lastSeed(),
            figures.threads(),
            all.runs(),
            all.rigSeconds() / 3600,
            figures.wallSeconds(),
            yearsAnHour(all.rigSeconds(), figures.wallSeconds())));
    lines.add(
        String.format(
            Locale.ROOT,
            "an hour. A sound permit relay fell at most %d ms after the program had died.",
            all.permitGoneMs()));
    figures
        .planted()
        .forEach(
            (words, found) ->
                lines.add(
                    String.format(Locale.ROOT, "Planted and found, %d times: %s.", found, words)));
    return lines;
  }

  /** A line for each kind of rig. */
  private static List<String> rigs(SoakWork.SoakFigures figures) {
    List<List<String>> rows = new ArrayList<>();
    for (SoakWork.SoakSums of : figures.rigs()) {
      rows.add(
          List.of(
              of.kind(),
              "'" + of.rig() + "'",
              count(of.runs()),
              String.format(Locale.ROOT, "%,.1f", of.rigSeconds() / 3600),
              count(of.starts()),
              count(of.pulses()),
              count(of.strokes()),
              count(of.accepted()),
              count(of.broken())));
    }
    return new Table(
            List.of(
                Table.Column.ofWords("rig"),
                Table.Column.ofWords("named"),
                Table.Column.ofNumbers("runs"),
                Table.Column.ofNumbers("rig hours"),
                Table.Column.ofNumbers("starts"),
                Table.Column.ofNumbers("pulses"),
                Table.Column.ofNumbers("strokes"),
                Table.Column.ofNumbers("accepted"),
                Table.Column.ofNumbers("broken")),
            rows)
        .lines();
  }

  private static String count(long number) {
    return String.format(Locale.ROOT, "%,d", number);
  }

  private static List<String> trips(SoakWork.SoakFigures figures) {
    List<List<String>> rows = new ArrayList<>();
    figures.trips().forEach((cause, count) -> rows.add(List.of(cause, count.toString())));
    return new Table(List.of(Table.Column.ofWords("trip"), Table.Column.ofNumbers("times")), rows)
        .lines();
  }

  private static List<String> coverage(SoakWork.SoakFigures figures) {
    List<String> lines = new ArrayList<>();
    long states =
        figures.coverage().values().stream()
            .flatMap(met -> met.keySet().stream())
            .distinct()
            .count();
    lines.add(
        "What happened, how often, and where it began, in " + states + " states of the host:");
    figures
        .coverage()
        .forEach(
            (kind, met) -> {
              long times = met.values().stream().mapToLong(count -> count).sum();
              String label = String.format(Locale.ROOT, "%-31s %6d  ", kind, times);
              lines.addAll(Wrapped.lines(label, where(met), COLUMNS));
            });
    return lines;
  }

  /** The states it met, or those it never met though it could, whichever are fewer. */
  private static String where(Map<String, Long> all) {
    List<Map.Entry<String, Long>> met =
        all.entrySet().stream().filter(each -> each.getValue() > 0).toList();
    List<String> never =
        all.keySet().stream().filter(state -> all.getOrDefault(state, 0L) == 0).toList();
    if (met.isEmpty()) {
      return "nowhere";
    }
    if (met.size() < never.size()) {
      return "only in "
          + met.stream()
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
            "seed %d on the rig '%s' broke %s at %.3f s",
            failure.seed(),
            failure.kind(),
            failure.rule(),
            failure.atMs() * 1e-3));
    lines.addAll(Wrapped.lines("  must hold  ", failure.words(), COLUMNS));
    lines.addAll(Wrapped.lines("  seen       ", failure.seen(), COLUMNS));
    failure.happenings().forEach(happening -> lines.add("  " + happening));
    lines.addAll(Wrapped.lines("  saved in   ", failure.file(), COLUMNS));
    return lines;
  }
}
