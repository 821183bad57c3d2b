package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import lodestep.port.Plot;
import lodestep.port.RoundScale;
import org.jspecify.annotations.Nullable;

/** Curves in characters, for a terminal: each has a letter of its own. Pure. */
final class TerminalPlot {

  private static final int WIDTH = 64;
  private static final int HEIGHT = 16;
  private static final int LABEL = 8;

  /** Steps between numbers, at most. */
  private static final int LABELS_MAX = 5;

  private static final String MARKS = "*o+x#";

  private TerminalPlot() {}

  /** The lines to print, all of them under 80 columns. */
  static List<String> lines(Plot plot) {
    RoundScale up = plot.scaleUp(LABELS_MAX);
    List<char[]> rows = drawn(plot, up.low(), up.high());
    @Nullable String[] labels = new String[HEIGHT];
    up.ticks().forEach(tick -> labels[row(tick, up.low(), up.high())] = number(tick));
    List<String> lines = new ArrayList<>(List.of(plot.up()));
    for (int row = 0; row < HEIGHT; row++) {
      String label = labels[row];
      lines.add(
          padded(label == null ? "" : label) + " |" + new String(rows.get(row)).stripTrailing());
    }
    lines.add(padded("") + " +" + "-".repeat(WIDTH));
    lines.add(padded("") + "  " + below(plot));
    lines.add(padded("") + "  " + plot.across());
    for (int c = 0; plot.curves().size() > 1 && c < plot.curves().size(); c++) {
      lines.add(padded("") + "  " + mark(c) + "  " + plot.curves().get(c).name());
    }
    return lines;
  }

  /** The numbers along the bottom, the first at its beginning and the last at its end. */
  private static String below(Plot plot) {
    RoundScale across = plot.scaleAcross(LABELS_MAX);
    StringBuilder line = new StringBuilder(" ".repeat(WIDTH));
    for (double tick : across.ticks()) {
      String label =
          plot.logarithmic()
              ? String.format(Locale.ROOT, "%.0f", plot.toldAcross(tick))
              : number(tick);
      double part = (tick - across.low()) / (across.high() - across.low());
      int at = (int) Math.round(part * (WIDTH - 1)) - label.length() / 2;
      int from = Math.max(0, Math.min(WIDTH - label.length(), at));
      line.replace(from, from + label.length(), label);
    }
    return line.toString().stripTrailing();
  }

  private static int row(double y, double low, double high) {
    int row = (int) Math.round((high - y) / (high - low) * (HEIGHT - 1));
    return Math.max(0, Math.min(HEIGHT - 1, row));
  }

  private static List<char[]> drawn(Plot plot, double low, double high) {
    RoundScale across = plot.scaleAcross(LABELS_MAX);
    List<char[]> rows = new ArrayList<>();
    IntStream.range(0, HEIGHT).forEach(row -> rows.add(" ".repeat(WIDTH).toCharArray()));
    for (int c = plot.curves().size() - 1; c >= 0; c--) {
      Plot.Curve curve = plot.curves().get(c);
      List<Double> xs = curve.x();
      for (int column = 0; curve.joined() && column < WIDTH; column++) {
        double part = (double) column / (WIDTH - 1);
        double x = across.low() + (across.high() - across.low()) * part;
        if (x >= xs.get(0) && x <= xs.get(xs.size() - 1)) {
          rows.get(row(at(curve, x), low, high))[column] = mark(c);
        }
      }
    }
    points(plot, across, (y, column, mark) -> rows.get(row(y, low, high))[column] = mark);
    return rows;
  }

  private interface Pen {
    void put(double y, int column, char mark);
  }

  /** Points that stand each for itself, over the lines. */
  private static void points(Plot plot, RoundScale across, Pen pen) {
    for (int c = 0; c < plot.curves().size(); c++) {
      Plot.Curve curve = plot.curves().get(c);
      for (int i = 0; !curve.joined() && i < curve.x().size(); i++) {
        double part = (curve.x().get(i) - across.low()) / (across.high() - across.low());
        int column = (int) Math.round(part * (WIDTH - 1));
        pen.put(curve.y().get(i), Math.max(0, Math.min(WIDTH - 1, column)), mark(c));
      }
    }
  }

  private static char mark(int curve) {
    return MARKS.charAt(curve % MARKS.length());
  }

  /** Between its points on a straight line. */
  private static double at(Plot.Curve curve, double x) {
    List<Double> xs = curve.x();
    for (int i = 1; i < xs.size(); i++) {
      if (x <= xs.get(i)) {
        double along = (x - xs.get(i - 1)) / (xs.get(i) - xs.get(i - 1));
        return curve.y().get(i - 1) + along * (curve.y().get(i) - curve.y().get(i - 1));
      }
    }
    return curve.y().get(xs.size() - 1);
  }

  private static String number(double value) {
    return String.format(Locale.ROOT, value == Math.rint(value) ? "%.0f" : "%.3g", value);
  }

  private static String padded(String label) {
    return " ".repeat(LABEL - label.length()) + label;
  }
}
