package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import java.util.function.Supplier;
import lodestep.quantity.FluxDensity;
import picocli.CommandLine.Command;
import picocli.CommandLine.HelpCommand;

/** What the gauge is worth: studies from readings that were written down. */
final class GaugeCommands {

  private GaugeCommands() {}

  /** What a person wrote, or a refusal with its sentence. */
  static <T> T understood(Supplier<T> reading) {
    try {
      return reading.get();
    } catch (IllegalArgumentException wrong) {
      throw new Refusal(String.valueOf(wrong.getMessage()));
    }
  }

  /** A level or a width that was given as an option. */
  static FluxDensity flux(String option, String text) {
    try {
      return FluxDensity.parse(text);
    } catch (IllegalArgumentException wrong) {
      throw new Refusal(option + ": " + wrong.getMessage());
    }
  }

  /** In gauss, for tables whose heading says the unit. */
  static String gauss(double tesla, int decimals) {
    return said("%." + decimals + "f", tesla * 1e4);
  }

  /** The group itself, which only says what there is. */
  @Command(
      name = "gauge",
      description = "Says what the gauge is worth: checks, charts, studies, budget, hand gauge.",
      subcommands = HelpCommand.class)
  static final class OfGauge extends Group {
    OfGauge(Desk desk) {
      super(desk);
    }
  }
}
