package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import lodestep.port.Plot;

/** Curves in characters, for a terminal: each has a letter of its own. Pure. */
final class TerminalPlot {

  private static final int WIDTH = 64;
  private static final int HEIGHT = 16;
  private static final int LABEL = 8;
  private static final int LABEL_EVERY = 5;
  private static final String MARKS = "*o+x";

  private TerminalPlot() {}

  /** The lines to print, all of them under 80 columns. */
  static List<String> lines(Plot plot) {
    double low = Math.min(0, extreme(plot, false, false));
    double high = extreme(plot, false, true);
    List<char[]> rows = drawn(plot, low, high);
    List<String> lines = new ArrayList<>(List.of(plot.up()));
    for (int row = 0; row < HEIGHT; row++) {
      double y = high - (high - low) * row / (HEIGHT - 1);
      String label = row % LABEL_EVERY == 0 ? number(y) : "";
      lines.add(padded(label) + " |" + new String(rows.get(row)).stripTrailing());
    }
    String begin = number(extreme(plot, true, false));
    String end = number(extreme(plot, true, true));
    lines.add(padded("") + " +" + "-".repeat(WIDTH));
    lines.add(padded("") + "  " + begin + " ".repeat(WIDTH - begin.length() - end.length()) + end);
    lines.add(padded("") + "  " + plot.across());
    for (int c = 0; plot.curves().size() > 1 && c < plot.curves().size(); c++) {
      lines.add(padded("") + "  " + mark(c) + "  " + plot.curves().get(c).name());
    }
    return lines;
  }

  private static List<char[]> drawn(Plot plot, double low, double high) {
    double left = extreme(plot, true, false);
    double right = extreme(plot, true, true);
    List<char[]> rows = new ArrayList<>();
    IntStream.range(0, HEIGHT).forEach(row -> rows.add(" ".repeat(WIDTH).toCharArray()));
    for (int c = plot.curves().size() - 1; c >= 0; c--) {
      for (int column = 0; column < WIDTH; column++) {
        double y = at(plot.curves().get(c), left + (right - left) * column / (WIDTH - 1));
        int row = (int) Math.round((high - y) / (high - low) * (HEIGHT - 1));
        rows.get(Math.max(0, Math.min(HEIGHT - 1, row)))[column] = mark(c);
      }
    }
    return rows;
  }

  private static char mark(int curve) {
    return MARKS.charAt(curve % MARKS.length());
  }

  private static double extreme(Plot plot, boolean across, boolean most) {
    return plot.curves().stream()
        .flatMap(curve -> (across ? curve.x() : curve.y()).stream())
        .reduce(most ? Double::max : Double::min)
        .orElseThrow();
  }

  /** Between its points on a straight line; its ends beyond them. */
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
    return String.format(Locale.ROOT, Math.abs(value) < 10 ? "%.1f" : "%.0f", value);
  }

  private static String padded(String label) {
    return " ".repeat(LABEL - label.length()) + label;
  }
}
