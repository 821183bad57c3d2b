package lodestep.adapter.plot;

import java.awt.BasicStroke;
import java.awt.Color;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import lodestep.port.Plot;
import lodestep.port.RoundScale;
import org.knowm.xchart.BitmapEncoder;
import org.knowm.xchart.VectorGraphicsEncoder;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.XYChartBuilder;
import org.knowm.xchart.XYSeries;
import org.knowm.xchart.style.Styler;
import org.knowm.xchart.style.lines.SeriesLines;
import org.knowm.xchart.style.markers.SeriesMarkers;

/** Curves as SVG or PNG. Good in black and white: each has a dash of its own. Any thread. */
public final class PlotFile {

  private static final int WIDTH = 900;
  private static final int HEIGHT = 560;

  /** Steps along an axis, at most: what there is room for. */
  private static final int TICKS = 10;

  private static final List<Color> COLOURS =
      List.of(
          new Color(0x1F4E79),
          new Color(0xB34700),
          new Color(0x2E6B2E),
          new Color(0x5B3A7E),
          new Color(0x222222));

  private static final List<float[]> DASHES =
      List.of(
          new float[] {1, 0},
          new float[] {9, 5},
          new float[] {2, 5},
          new float[] {12, 4, 2, 4},
          new float[] {5, 3});

  private PlotFile() {}

  /**
   * The plot as the bytes of a file.
   *
   * @param name the file's name, which ends in {@code .svg} or {@code .png}
   * @throws IllegalArgumentException if it ends otherwise
   * @throws IOException never in practice: nothing but memory is written
   */
  public static byte[] of(Plot plot, String name) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    String lower = name.toLowerCase(Locale.ROOT);
    if (lower.endsWith(".svg")) {
      VectorGraphicsEncoder.saveVectorGraphic(
          chart(plot), bytes, VectorGraphicsEncoder.VectorGraphicsFormat.SVG);
    } else if (lower.endsWith(".png")) {
      BitmapEncoder.saveBitmap(chart(plot), bytes, BitmapEncoder.BitmapFormat.PNG);
    } else {
      throw new IllegalArgumentException(
          "a plot is written as .svg or .png, not as '" + name + "'; end the name so");
    }
    return bytes.toByteArray();
  }

  private static XYChart chart(Plot plot) {
    XYChart chart =
        new XYChartBuilder()
            .width(WIDTH)
            .height(HEIGHT)
            .title(plot.title())
            .xAxisTitle(plot.across())
            .yAxisTitle(plot.up())
            .build();
    chart.getStyler().setChartBackgroundColor(Color.WHITE);
    chart.getStyler().setPlotBackgroundColor(Color.WHITE);
    chart.getStyler().setPlotGridLinesColor(new Color(0xD8D8D8));
    chart.getStyler().setChartTitleBoxVisible(false);
    chart.getStyler().setLegendPosition(Styler.LegendPosition.InsideNE);
    chart.getStyler().setLegendVisible(plot.curves().size() > 1);
    chart.getStyler().setLocale(Locale.ROOT);
    RoundScale across = plot.scaleAcross(TICKS);
    RoundScale up = plot.scaleUp(TICKS);
    if (plot.logarithmic()) {
      chart.getStyler().setXAxisLogarithmic(true);
    } else {
      chart.getStyler().setXAxisMin(across.low()).setXAxisMax(across.high());
    }
    chart.getStyler().setYAxisMin(up.low()).setYAxisMax(up.high());
    for (int i = 0; i < plot.curves().size(); i++) {
      Plot.Curve curve = plot.curves().get(i);
      XYSeries series =
          chart.addSeries(
              curve.name(), curve.x().stream().map(plot::toldAcross).toList(), curve.y());
      series.setMarker(curve.joined() ? SeriesMarkers.NONE : SeriesMarkers.DIAMOND);
      series.setMarkerColor(COLOURS.get(i % COLOURS.size()));
      series.setLineColor(COLOURS.get(i % COLOURS.size()));
      series.setLineStyle(curve.joined() ? line(i) : SeriesLines.NONE);
    }
    return chart;
  }

  private static BasicStroke line(int curve) {
    float[] dashes = DASHES.get(curve % DASHES.size());
    return new BasicStroke(2.4f, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND, 10, dashes, 0);
  }
}
