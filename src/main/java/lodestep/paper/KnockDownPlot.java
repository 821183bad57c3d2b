package lodestep.paper;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.ledger.MagnetHistory;
import lodestep.port.ActEvent.ActEnded;
import lodestep.port.ActEvent.Intent;
import lodestep.port.Plot;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;

/** The curves that magnets were brought down along, for a certificate. */
final class KnockDownPlot {

  private static final double PER_KILO = 1e-3;

  /** On paper more curves than these cannot be told apart. */
  private static final int CURVES_MAX = 6;

  private KnockDownPlot() {}

  /** How the magnets came down, the first of them; none if none was knocked down. */
  static Optional<Plot> of(List<Certificate.Level> magnets) {
    List<Plot.Curve> curves =
        magnets.stream().flatMap(level -> curve(level).stream()).limit(CURVES_MAX).toList();
    return curves.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Plot(
                "How they came down from their full charge",
                "largest opposing field/(kA/m)",
                "reads/G by the rig",
                curves));
  }

  /** Of its last charge; each act with the reading after it. */
  private static Optional<Plot.Curve> curve(Certificate.Level level) {
    List<Double> fields = new ArrayList<>();
    List<Double> levels = new ArrayList<>();
    double largest = 0;
    boolean open = false;
    for (MagnetHistory.Happening happening : level.history().happenings()) {
      if (happening.what() instanceof MagnetHistory.What.Acted acted) {
        boolean charge = acted.intent().purpose().equals("charge");
        if (charge) {
          fields.clear();
          levels.clear();
          largest = 0;
        } else if (delivered(acted.end())) {
          largest = Math.max(largest, field(acted.intent()));
        }
        open = true;
      } else if (open && happening.what() instanceof MagnetHistory.What.Reading reading) {
        if (fields.isEmpty() || largest > fields.get(fields.size() - 1)) {
          fields.add(largest);
          levels.add(new FluxDensity(Math.abs(reading.event().fieldMicroTesla()) * 1e-6).gauss());
        }
        open = false;
      }
    }
    return fields.size() < 2
        ? Optional.empty()
        : Optional.of(new Plot.Curve(level.history().identity().name(), fields, levels));
  }

  private static boolean delivered(Optional<ActEnded> end) {
    return end.map(ended -> ended.outcome().equals("delivered")).orElse(false);
  }

  private static double field(Intent intent) {
    return new FieldStrength(intent.fieldAmperesPerMetre()).amperesPerMetre() * PER_KILO;
  }
}
