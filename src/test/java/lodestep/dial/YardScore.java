package lodestep.dial;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What became of the magnets that one planner dialed. Mutable. */
final class YardScore {

  // Seconds of the virtual rig, from the demo's ledger: from one magnet's verdict to the next one's
  // first reading, a charge with its reading, a knock-down with its reading, a proof.
  private static final double HANDLING = 7.0;
  private static final double CHARGE = 5.3;
  private static final double KNOCK_DOWN = 1.9;
  private static final double PROOF = 1.6;

  /**
   * One magnet's end.
   *
   * @param inside whether its level at nominal seat is inside the tolerance
   */
  record End(int knockDowns, int recharges, boolean accepted, boolean inside) {
    double seconds() {
      return HANDLING + CHARGE * (1 + recharges) + KNOCK_DOWN * knockDowns + PROOF;
    }
  }

  private final List<End> ends = new ArrayList<>();

  void add(End end) {
    ends.add(end);
  }

  void add(YardScore other) {
    ends.addAll(other.ends);
  }

  int magnets() {
    return ends.size();
  }

  double meanPulses() {
    return ends.stream().mapToInt(End::knockDowns).average().orElse(Double.NaN);
  }

  private int manyPulses() {
    int[] sorted = ends.stream().mapToInt(End::knockDowns).sorted().toArray();
    return sorted[(int) Math.ceil(0.99 * sorted.length) - 1];
  }

  double recharges() {
    return ends.stream().mapToInt(End::recharges).sum() / (double) ends.size();
  }

  double trulyInside() {
    return share(end -> end.accepted() && end.inside());
  }

  double wronglyAccepted() {
    return share(end -> end.accepted() && !end.inside());
  }

  private double wronglyRefused() {
    return share(end -> !end.accepted() && end.inside());
  }

  private double share(java.util.function.Predicate<End> which) {
    return ends.stream().filter(which).count() / (double) ends.size();
  }

  static String heading() {
    return String.format(
        "%-16s %8s %8s %5s %10s %8s %8s %8s %8s",
        "planner",
        "magnets",
        "pulses",
        "p99",
        "recharges",
        "inside",
        "wrong +",
        "wrong -",
        "seconds");
  }

  String row(String planner) {
    return String.format(
        Locale.ROOT,
        "%-16s %8d %8.2f %5d %8.2f %% %6.2f %% %6.2f %% %6.2f %% %8.1f",
        planner,
        ends.size(),
        meanPulses(),
        manyPulses(),
        100 * recharges(),
        100 * trulyInside(),
        100 * wronglyAccepted(),
        100 * wronglyRefused(),
        ends.stream().mapToDouble(End::seconds).average().orElse(Double.NaN));
  }
}
