package lodestep.cli;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import lodestep.port.Plot;

/** Curves in characters, for a terminal: each has a letter of its own. Pure. */
final class TerminalPlot {

  private static final int WIDTH = 64;
  private static final int HEIGHT = 16;
  private static final int LABEL = 8;
  private static final String MARKS = "*o+x";

  private TerminalPlot() {}

  /** The lines to print, all of them under 80 columns. */
  static List<String> lines(Plot plot) {
    double left = extreme(plot, true, false);
    double right = extreme(plot, true, true);
    double low = Math.min(0, extreme(plot, false, false));
    double high = extreme(plot, false, true);
    char[][] field = new char[HEIGHT][WIDTH];
    Arrays.stream(field).forEach(row -> Arrays.fill(row, ' '));
    for (int c = plot.curves().size() - 1; c >= 0; c--) {
      Plot.Curve curve = plot.curves().get(c);
      for (int column = 0; column < WIDTH; column++) {
        double x = left + (right - left) * column / (WIDTH - 1);
        double y = at(curve, x);
        int row = (int) Math.round((high - y) / (high - low) * (HEIGHT - 1));
        if (row >= 0 && row < HEIGHT) {
          field[row][column] = MARKS.charAt(c % MARKS.length());
        }
      }
    }
    List<String> lines = new ArrayList<>();
    lines.add(plot.up());
    for (int row = 0; row < HEIGHT; row++) {
      double y = high - (high - low) * row / (HEIGHT - 1);
      String label = row % 5 == 0 ? number(y) : "";
      lines.add(padded(label) + " |" + new String(field[row]).stripTrailing());
    }
    lines.add(padded("") + " +" + "-".repeat(WIDTH));
    String end = number(right);
    String begin = number(left);
    lines.add(padded("") + "  " + begin + " ".repeat(WIDTH - begin.length() - end.length()) + end);
    lines.add(padded("") + "  " + plot.across());
    if (plot.curves().size() > 1) {
      for (int c = 0; c < plot.curves().size(); c++) {
        lines.add(
            padded("")
                + "  "
                + MARKS.charAt(c % MARKS.length())
                + "  "
                + plot.curves().get(c).name());
      }
    }
    return lines;
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
