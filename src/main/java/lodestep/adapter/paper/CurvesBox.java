package lodestep.adapter.paper;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import lodestep.port.Plot;
import lodestep.port.RoundScale;

/** Curves in a rectangle, told apart by dashes and by a name at their ends. */
final class CurvesBox {

  private static final List<float[]> DASHES =
      List.of(
          new float[0],
          new float[] {4, 2},
          new float[] {1, 1.6f},
          new float[] {6, 2, 1, 2},
          new float[] {2, 2},
          new float[] {8, 3});

  private static final int TICKS = 7;
  private static final float SIZE = 7;
  private static final float TICK = 3;
  private static final float LEFT = 38;
  private static final float BELOW = 26;
  private static final float NAMES = 64;

  private final Pen pen;
  private final Plot plot;
  private final RoundScale across;
  private final RoundScale up;
  private final float x;
  private final float y;
  private final float wide;
  private final float high;

  /** The rectangle's bottom left, and its size with the names of everything. */
  CurvesBox(Pen pen, Plot plot, float x, float y, float wide, float high) {
    this.pen = pen;
    this.plot = plot;
    this.across = plot.scaleAcross(TICKS);
    this.up = plot.scaleUp(TICKS);
    this.x = x + LEFT;
    this.y = y + BELOW;
    this.wide = wide - LEFT - NAMES;
    this.high = high - BELOW - SIZE;
  }

  void draw() throws IOException {
    pen.box(x, y, wide, high);
    for (double tick : across.ticks()) {
      pen.line(x(tick), y, x(tick), y - TICK, 0.4f);
      pen.wordsAbout(figure(tick), x(tick), y - TICK - SIZE - 1, SIZE);
    }
    for (double tick : up.ticks()) {
      pen.line(x - TICK, y(tick), x, y(tick), 0.4f);
      pen.wordsUpTo(figure(tick), x - TICK - 2, y(tick) - 0.35f * SIZE, SIZE);
    }
    pen.wordsAbout(plot.across(), x + wide / 2, y - BELOW + 3, SIZE);
    pen.upwards(plot.up(), x - LEFT + SIZE, y + high / 2, SIZE);
    float below = Float.POSITIVE_INFINITY;
    for (int at = 0; at < plot.curves().size(); at++) {
      below = curve(plot.curves().get(at), DASHES.get(at % DASHES.size()), below);
    }
  }

  /** Names go down the right side in their order, and never over one another. */
  private float curve(Plot.Curve curve, float[] dashes, float below) throws IOException {
    int points = curve.x().size();
    float[] xs = new float[points];
    float[] ys = new float[points];
    for (int at = 0; at < points; at++) {
      xs[at] = x(curve.x().get(at));
      ys[at] = y(curve.y().get(at));
      if (!curve.joined() || points < 20) {
        pen.dot(xs[at], ys[at], 1);
      }
    }
    if (curve.joined() && points > 1) {
      pen.joined(xs, ys, dashes);
    }
    if (plot.curves().size() < 2) {
      return below;
    }
    float nameY = Math.min(y + high - SIZE, below - SIZE - 2);
    if (curve.joined()) {
      pen.joined(
          new float[] {x + wide + 4, x + wide + 18}, new float[] {nameY + 2, nameY + 2}, dashes);
    } else {
      pen.dot(x + wide + 11, nameY + 2, 1);
    }
    pen.words(curve.name(), x + wide + 21, nameY, SIZE);
    return nameY;
  }

  private float x(double value) {
    return x + (float) ((value - across.low()) / (across.high() - across.low()) * wide);
  }

  private float y(double value) {
    return y + (float) ((value - up.low()) / (up.high() - up.low()) * high);
  }

  private static String figure(double value) {
    return value == Math.rint(value)
        ? String.format(Locale.ROOT, "%.0f", value)
        : String.format(Locale.ROOT, "%.6g", value).replaceFirst("0+$", "");
  }
}
