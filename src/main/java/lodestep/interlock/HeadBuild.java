package lodestep.interlock;

import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lodestep.config.JigConfig;
import lodestep.protocol.HeadFrame;

/**
 * What a head must have been built with to serve a rig, and how another one differs. Nothing else
 * would show it: a head with another screw's figures steps to another place and counts the place it
 * was sent to. Any thread, immutable.
 *
 * @param wanted the figures of rig.toml and of the design, with no boot of their own
 */
public record HeadBuild(HeadFrame.Build wanted) {

  private static final int NO_BOOT = 0;

  /** The figures that this rig wants of its head. */
  public static HeadBuild of(InterlockSettings settings) {
    Optional<JigConfig.Screw> screw = settings.jig().map(JigConfig::screw);
    return new HeadBuild(
        new HeadFrame.Build(
            NO_BOOT,
            screw.map(it -> whole(it.pitch().metres() * 1e9)).orElse(0),
            screw.map(JigConfig.Screw::stepsPerTurn).orElse(0),
            screw.map(it -> (int) it.travel().microMetres()).orElse(0),
            screw.map(it -> whole(it.millimetresPerSecond() * 1e3)).orElse(0),
            (int) (settings.limits().windowWaitNs() / 1_000_000L),
            settings.limits().bankOver().milliVolts(),
            whole(settings.coilTemperatureMax().degC() * 100)));
  }

  private static int whole(double figure) {
    return (int) Math.round(figure);
  }

  /**
   * Each figure that differs, with both values; empty if none does.
   *
   * @param said what the head says of itself
   */
  public Optional<String> difference(HeadFrame.Build said) {
    return same(said) ? Optional.empty() : Optional.of(differing(said));
  }

  /** Asked in every scan, so that nothing is made while they are alike. */
  private boolean same(HeadFrame.Build said) {
    return said.pitchNanoMetres() == wanted.pitchNanoMetres()
        && said.stepsPerTurn() == wanted.stepsPerTurn()
        && said.travelMicroMetres() == wanted.travelMicroMetres()
        && said.microMetresPerSecond() == wanted.microMetresPerSecond()
        && said.windowMillis() == wanted.windowMillis()
        && said.bankCapMilliVolts() == wanted.bankCapMilliVolts()
        && said.coilCentiDegCMax() == wanted.coilCentiDegCMax();
  }

  private String differing(HeadFrame.Build said) {
    List<String> differing =
        Stream.of(
                compared("pitch", said.pitchNanoMetres(), wanted.pitchNanoMetres(), 6, " mm"),
                compared("steps_per_turn", said.stepsPerTurn(), wanted.stepsPerTurn(), 0, ""),
                compared("travel", said.travelMicroMetres(), wanted.travelMicroMetres(), 3, " mm"),
                compared(
                    "speed_mm_per_second",
                    said.microMetresPerSecond(),
                    wanted.microMetresPerSecond(),
                    3,
                    ""),
                compared(
                    "longest fire window", said.windowMillis(), wanted.windowMillis(), 0, " ms"),
                compared(
                    "cap on the bank",
                    said.bankCapMilliVolts(),
                    wanted.bankCapMilliVolts(),
                    3,
                    " V"),
                compared(
                    "highest_temperature",
                    said.coilCentiDegCMax(),
                    wanted.coilCentiDegCMax(),
                    2,
                    " \u00b0C"))
            .flatMap(Optional::stream)
            .toList();
    return String.join(", ", differing);
  }

  /** Exactly, as no rounding may hide what differs. */
  private static Optional<String> compared(
      String name, int said, int wanted, int decimals, String unit) {
    return said == wanted
        ? Optional.empty()
        : Optional.of(
            name
                + " "
                + written(said, decimals)
                + unit
                + " and not "
                + written(wanted, decimals)
                + unit);
  }

  private static String written(int value, int decimals) {
    BigDecimal exact = BigDecimal.valueOf(value, decimals).stripTrailingZeros();
    return exact.toPlainString();
  }
}
