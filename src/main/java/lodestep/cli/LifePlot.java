package lodestep.cli;

import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetHistory.Happening;
import lodestep.ledger.MagnetHistory.What;
import lodestep.port.ActEvent;
import lodestep.port.GaugeEvent.ReferenceRead;
import lodestep.port.LedgerEvent;
import lodestep.port.Plot;
import lodestep.quantity.FluxDensity;

/** Lives as curves: of magnets by what they read, of the gauge and of the rig over the days. */
final class LifePlot {

  /** What a rig's life is drawn from. */
  static final Set<String> OF_RIG =
      Set.of(
          EventCodec.kind(ActEvent.PulseIntended.class),
          EventCodec.kind(ActEvent.SwitchedPulseIntended.class),
          EventCodec.kind(ActEvent.StrokeIntended.class),
          EventCodec.kind(LedgerEvent.Tripped.class));

  private static final double DAY_SECONDS = 86_400;
  private static final double PERCENT = 100;

  /** More points than that show nothing more. */
  private static final int POINTS_MAX = 2_000;

  private LifePlot() {}

  /** What they read, in the order it was read. */
  static Plot ofMagnets(List<MagnetHistory> histories) {
    List<Plot.Curve> curves = new ArrayList<>();
    for (MagnetHistory history : histories) {
      List<Double> order = new ArrayList<>();
      List<Double> levels = new ArrayList<>();
      for (Happening happening : history.happenings()) {
        if (happening.what() instanceof What.Reading reading) {
          order.add((double) order.size() + 1);
          levels.add(FluxDensity.ofMicroTesla(reading.event().fieldMicroTesla()).gauss());
        }
      }
      if (!order.isEmpty()) {
        curves.add(new Plot.Curve(history.identity().name(), order, levels));
      }
    }
    return new Plot("What it read", "reading, in order", "reads/G", drawable(curves));
  }

  /** Each reading of a reference magnet beside its certificate, over the days. */
  static Plot ofGauge(List<LedgerEntry> entries) {
    Map<String, Curve> curves = new LinkedHashMap<>();
    for (LedgerEntry entry : entries) {
      if (entry.event() instanceof ReferenceRead read) {
        double off = (double) read.fieldMicroTesla() / read.certificateMicroTesla() - 1;
        curves
            .computeIfAbsent(read.reference() + " in the " + read.nest(), name -> new Curve())
            .add(days(entries.get(0), entry), PERCENT * off);
      }
    }
    return new Plot(
        "What the gauge read of its reference magnets",
        "days",
        "off the certificate/%",
        drawable(named(curves)));
  }

  /** How many pulses, strokes and trips there were, over the days. */
  static Plot ofRig(List<LedgerEntry> entries) {
    Map<String, Curve> curves = new LinkedHashMap<>();
    for (LedgerEntry entry : entries) {
      String name =
          entry.event() instanceof LedgerEvent.Tripped
              ? "trips"
              : entry.event() instanceof ActEvent.StrokeIntended ? "strokes" : "pulses";
      Curve curve = curves.computeIfAbsent(name, each -> new Curve());
      curve.add(days(entries.get(0), entry), curve.y.size() + 1);
    }
    return new Plot("What the rig has done", "days", "so many until then", drawable(named(curves)));
  }

  /** The points of a curve that grows. One thread. */
  private static final class Curve {
    private final List<Double> x = new ArrayList<>();
    private final List<Double> y = new ArrayList<>();

    /** A wall clock that was set back draws no way back. */
    void add(double days, double value) {
      x.add(x.isEmpty() ? days : Math.max(days, x.get(x.size() - 1)));
      y.add(value);
    }

    Plot.Curve drawn(String name) {
      int each = 1 + x.size() / POINTS_MAX;
      List<Double> across = new ArrayList<>();
      List<Double> up = new ArrayList<>();
      for (int at = 0; at < x.size(); at++) {
        if (at % each == 0 || at == x.size() - 1) {
          across.add(x.get(at));
          up.add(y.get(at));
        }
      }
      return new Plot.Curve(name, across, up);
    }
  }

  private static List<Plot.Curve> named(Map<String, Curve> curves) {
    List<Plot.Curve> all = new ArrayList<>();
    curves.forEach((name, curve) -> all.add(curve.drawn(name)));
    return all;
  }

  private static double days(LedgerEntry first, LedgerEntry entry) {
    return Duration.between(first.wall(), entry.wall()).toSeconds() / DAY_SECONDS;
  }

  private static List<Plot.Curve> drawable(List<Plot.Curve> curves) {
    if (curves.isEmpty()) {
      throw new Refusal("--plot: nothing is on record that could be drawn");
    }
    return curves;
  }
}
