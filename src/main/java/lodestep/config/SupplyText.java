package lodestep.config;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Resistance;

/** Writes a supply, its ladder and the levels it gives out for people. */
final class SupplyText {

  private static final double NS_PER_MS = 1e6;

  private SupplyText() {}

  static List<List<String>> facts(SupplyConfig supply) {
    String ladder =
        supply.ladderOhms().stream()
            .map(ohms -> new Resistance(ohms).written())
            .collect(Collectors.joining(", "));
    return List.of(
        List.of(
            "supply",
            supply.voltage().written()
                + ", held at "
                + supply.currentLimit().written()
                + " at most"),
        List.of("", "ladder " + ladder + ", in parallel as the relays close"),
        List.of(
            "",
            said(
                "on for %.0f ms; the hardware timer ends a pulse after %.0f ms",
                supply.onTimeNs() / NS_PER_MS, supply.longestNs() / NS_PER_MS)),
        List.of(
            "",
            "feed emptied through "
                + new Resistance(supply.dischargeOhms()).written()
                + " when coil_on opens"));
  }

  /** The levels at a quarter of the ladder each, and the step there; the coil at 20 °C. */
  static List<List<String>> levels(SupplyConfig supply, CoilConfig coil) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of(coil.name(), "current", "field at the work", "step to the next"));
    int quarter = (supply.levels() + 1) / 4;
    for (int level : new int[] {1, quarter, 2 * quarter, 3 * quarter, supply.levels()}) {
      double amps = supply.amps(level, coil.resistanceOhms());
      double next = supply.amps(level + 1, coil.resistanceOhms());
      rows.add(
          List.of(
              "level " + level,
              said("%.3f A", amps),
              field(amps, coil),
              level == supply.levels() ? "" : field(next - amps, coil)));
    }
    double full = supply.fullAmps(coil.resistanceOhms());
    rows.add(List.of("charging", said("%.3f A", full), field(full, coil), ""));
    return rows;
  }

  private static String field(double amps, CoilConfig coil) {
    return new FieldStrength(amps * coil.fieldPerAmp()).written();
  }

  private static String said(String format, Object... figures) {
    return String.format(Locale.ROOT, format, figures);
  }
}
