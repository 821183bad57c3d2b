package lodestep.cli;

import static lodestep.cli.GaugeCommands.flux;
import static lodestep.cli.GaugeCommands.gauss;
import static lodestep.cli.GaugeCommands.understood;
import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import lodestep.bench.GaugeBudget;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.measure.Acceptance;
import lodestep.measure.ConformityRisk;
import lodestep.measure.Seating;
import lodestep.quantity.FluxDensity;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** How often a magnet outside is accepted, and one inside refused. */
@Command(
    name = "risk",
    description = "Tells how often a magnet outside is accepted, and one inside refused.",
    footer = {
      "",
      "After JCGM 106, with normal distributions: of all magnets offered, those that",
      "are outside and accepted (the consumer's risk) and those that are inside and",
      "refused (the producer's), for the rig's uncertainty and for several guard",
      "bands w = r U, U = 2 u. --spread is the standard deviation of the magnets",
      "that are offered, --mean by how much they lie beside the target on the mean.",
      "The rig itself accepts with r = 1.",
      "",
      "Example: lodestep gauge risk --level \"430 G\" --tolerance \"8 G\" --spread \"4 G\""
    })
final class RiskCommand extends Asked {

  private static final double[] USUAL = {0, 0.5, 1, 1.5};

  private final Desk desk;

  @Option(names = "--level", paramLabel = "LEVEL", required = true, description = "\"430 G\"")
  private String level = "";

  @Option(
      names = "--tolerance",
      paramLabel = "TOLERANCE",
      required = true,
      description = "half width of the band, \"8 G\"")
  private String tolerance = "";

  @Option(
      names = "--spread",
      paramLabel = "SPREAD",
      required = true,
      description = "standard deviation of the magnets, \"4 G\"")
  private String spread = "";

  @Option(
      names = "--mean",
      paramLabel = "OFFSET",
      defaultValue = "0 G",
      description = "mean of the magnets, from the target; \"0 G\" if left out")
  private String mean = "";

  @Option(names = "--guard", paramLabel = "R", description = "one more guard factor r, 0 to 3")
  private @Nullable Double guard;

  @Option(names = "--nest", paramLabel = "NEST", description = "the rig's first if left out")
  private @Nullable String nestName;

  @Option(
      names = "--study",
      paramLabel = "FILE",
      description = "a placement study's readings, as for gauge budget")
  private @Nullable Path study;

  @Option(names = "--ledger", paramLabel = "FILE", description = "the ledger's file")
  private @Nullable Path ledger;

  @Option(
      names = "--rig",
      paramLabel = "RIG",
      description = "rig.toml; the virtual rig's if left out")
  private @Nullable Path rigFile;

  @Option(names = "--json", description = "as JSON; flux density in gauss, risks as fractions")
  private boolean json;

  RiskCommand(Desk desk) {
    this.desk = desk;
  }

  /** One guard band with what it does. */
  private record Case(double factor, double guard, ConformityRisk risk) {}

  @Override
  public Integer call() {
    RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
    NestConfig nest = GaugeRigCommands.nest(rig, nestName);
    Path record = desk.ledger(ledger, rigFile);
    FluxDensity at = flux("--level", level).magnitude();
    double half = above("--tolerance", tolerance);
    double sigma = above("--spread", spread);
    double offset = flux("--mean", mean).tesla();
    Seating seating = Seatings.of(desk, nest, record, study);
    double u =
        FluxDensity.ofGauss(
                GaugeBudget.of(
                        desk.program().gauge().calibrated(rig, record),
                        desk.program().gauge().calibratedBy(rig, record),
                        at,
                        seating)
                    .combined()
                    .value())
            .tesla();
    List<Case> cases = new ArrayList<>();
    for (double factor : factors()) {
      double width = factor * Acceptance.COVERAGE * u;
      cases.add(
          new Case(
              factor, width, understood(() -> new ConformityRisk(offset, sigma, u, half, width))));
    }
    if (json) {
      desk.print(document(nest, at, half, u, cases));
    } else {
      List<String> lines = new ArrayList<>(words(nest, at, half, u, cases));
      lines.addAll(
          Wrapped.lines("", ofTheRig(at, half, u, seating.known()), MagnetCommands.COLUMNS));
      desk.print(lines);
    }
    return Desk.DONE;
  }

  private static double above(String option, String text) {
    double tesla = flux(option, text).tesla();
    if (!(tesla > 0)) {
      throw new Refusal(option + ": it must be above zero");
    }
    return tesla;
  }

  private SortedSet<Double> factors() {
    SortedSet<Double> factors = new TreeSet<>();
    for (double usual : USUAL) {
      factors.add(usual);
    }
    if (guard != null) {
      if (!(guard >= 0 && guard <= 3)) {
        throw new Refusal("--guard: a guard factor lies between 0 and 3");
      }
      factors.add(guard);
    }
    return factors;
  }

  private static List<String> words(
      NestConfig nest, FluxDensity at, double half, double u, List<Case> cases) {
    List<String> lines = new ArrayList<>();
    lines.add(
        said(
            "Risks of accepting at %s ± %s G in the %s, u = %s G (JCGM 106)",
            at.inGauss(), gauss(half, 1), nest.name(), gauss(u, 2)));
    lines.add(
        said("Of the magnets offered %.2f %% are inside.", 100 * cases.get(0).risk().conforming()));
    lines.add("");
    lines.addAll(
        new Table(
                List.of(
                    Table.Column.ofNumbers("r"),
                    Table.Column.ofNumbers("guard band/G"),
                    Table.Column.ofNumbers("accepted within/G"),
                    Table.Column.ofNumbers("outside and accepted/%"),
                    Table.Column.ofNumbers("inside and refused/%"),
                    Table.Column.ofNumbers("outside, if at the limit/%")),
                cases.stream().map(one -> row(one, half)).toList())
            .lines());
    lines.add("");
    return lines;
  }

  /** By the rule that the rig itself goes by. */
  private static String ofTheRig(FluxDensity at, double half, double u, String seating) {
    FluxDensity doubt = new FluxDensity(u);
    if (!Acceptance.canTell(new FluxDensity(half), doubt)) {
      return "This tolerance is tighter than the gauge can tell: a magnet seated anew may read"
          + " outside.";
    }
    double within = accepted(at, half, doubt);
    return said(
        "The rig accepts with r = 1: it narrows the tolerance by U = 2 u, seating counted (%s), and"
            + " so accepts within %s G here, guard band %s G; each reading's own noise makes a"
            + " little more or less of it.",
        seating, gauss(within, 2), gauss(half - within, 2));
  }

  private static double accepted(FluxDensity at, double half, FluxDensity doubt) {
    return Acceptance.guarded(at, new FluxDensity(half)).acceptedHalfWidthTesla(doubt);
  }

  private static List<String> row(Case one, double half) {
    boolean none = one.guard() >= half;
    return List.of(
        said("%.2f", one.factor()),
        gauss(one.guard(), 2),
        none ? "nothing" : gauss(half - one.guard(), 2),
        said("%.4f", 100 * one.risk().consumer()),
        said("%.3f", 100 * one.risk().producer()),
        none ? "" : said("%.2f", 100 * atLimit(one, half)));
  }

  /** How probable it is that a magnet which reads just at the limit of acceptance is outside. */
  private static double atLimit(Case one, double half) {
    return one.risk().specific(half - one.guard());
  }

  private static ObjectNode document(
      NestConfig nest, FluxDensity at, double half, double u, List<Case> cases) {
    ObjectNode node = Json.object();
    node.put("nest", nest.name());
    node.put("levelGauss", at.gauss());
    node.put("toleranceGauss", half * 1e4);
    node.put("uncertaintyGauss", u * 1e4);
    node.put("rigAcceptsWithinGauss", Math.max(0, accepted(at, half, new FluxDensity(u))) * 1e4);
    node.put("conforming", cases.get(0).risk().conforming());
    ArrayNode all = node.putArray("guardBands");
    for (Case one : cases) {
      ObjectNode each = all.addObject();
      each.put("factor", one.factor());
      each.put("guardGauss", one.guard() * 1e4);
      each.put("consumer", one.risk().consumer());
      each.put("producer", one.risk().producer());
      if (one.guard() < half) {
        each.put("specificAtLimit", atLimit(one, half));
      } else {
        each.putNull("specificAtLimit");
        each.put("specificAtLimitWhy", "nothing is accepted");
      }
    }
    return node;
  }
}
