package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import lodestep.cli.AskedPickup.Described;
import lodestep.magnet.Flux;
import lodestep.magnet.Keeping;
import lodestep.magnet.Place;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.hipparchus.analysis.solvers.BrentSolver;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** One alloy in place of another, as the strings see it. */
@Command(
    name = "instead",
    description = "One alloy in place of another: the level at which the strings see the same.",
    footer = {
      "",
      "At the pole's face two alloys can read alike and still differ further off; see",
      "\"lodestep magnet instead\" for the same reading at the gauge.",
      "",
      "Example: lodestep voice instead --alloy \"alnico 3\" --size \"4.6 x 15.5 mm\"",
      "             --level \"390 G\" --by \"alnico 5\""
    })
final class InsteadCommand extends Asked {

  private static final double[] UP_MM = {1.5, 2, 2.8, 4, 6};
  private static final double[] ASIDE_MM = {2, 4};

  /** Of a level; far finer than anything can be dialed. */
  private static final double ACCURACY_TESLA = 2e-6;

  private static final int EVALUATIONS_MAX = 60;

  private final Desk desk;
  @Mixin private AskedPickup asked = new AskedPickup();

  @Option(
      names = "--level",
      paramLabel = "LEVEL",
      description = "of the magnet that is to be replaced; full charge if left out")
  private @Nullable String level;

  @Option(
      names = "--by",
      paramLabel = "ALLOY",
      required = true,
      description = "the alloy to take in its place")
  private String other = "";

  @Option(names = "--json", description = "as JSON, in SI units")
  private boolean json;

  InsteadCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    Described own = asked.described(desk);
    FluxDensity was = AskedPickup.level(own, level);
    Described by = own.with(asked.kind(asked.rig(desk), other));
    int string = own.most();
    FluxDensity takes = same(own, was, by, string);
    if (json) {
      desk.print(document(own, was, by, takes, string));
    } else {
      desk.print(words(own, was, by, takes, string));
      desk.print(asked.past(desk, by, takes));
    }
    return Desk.DONE;
  }

  /** The level of the other at which this string sees the same field. */
  private static FluxDensity same(Described own, FluxDensity was, Described by, int string) {
    double wanted = own.field().atString(string, was, own.distance());
    double most = by.field().atString(string, by.full(), by.distance());
    if (wanted > most) {
      throw new Refusal(
          said(
              "--by: %s does not hold it: fully charged at %s it gives the strings %.0f G, and they"
                  + " see %.0f G now; take a larger magnet or a stronger alloy",
              by.kind(), by.full().inGauss(), most * 1e4, wanted * 1e4));
    }
    double full = by.full().tesla();
    double tesla =
        new BrentSolver(ACCURACY_TESLA)
            .solve(
                EVALUATIONS_MAX,
                each -> by.field().atString(string, new FluxDensity(each), by.distance()) - wanted,
                0.03 * full,
                full);
    return new FluxDensity(tesla);
  }

  private static List<String> words(
      Described own, FluxDensity was, Described by, FluxDensity takes, int string) {
    List<String> lines =
        new ArrayList<>(
            List.of(
                by.kind() + " in place of " + own.kind().alloy().name(),
                said(
                    "Dial it to %s, %.0f %% of its full charge, and string %s sees what it saw over"
                        + " %s.",
                    takes.inGauss(),
                    100 * takes.tesla() / by.full().tesla(),
                    own.set().tuned().get(string).note(),
                    was.inGauss()),
                ""));
    lines.addAll(table(own, was, by, takes, string).lines());
    lines.add("");
    lines.addAll(Wrapped.lines("", keeps(own, was, by, takes), MagnetCommands.COLUMNS));
    lines.addAll(Wrapped.lines("", by.field().range(takes), MagnetCommands.COLUMNS));
    return lines;
  }

  private static Table table(
      Described own, FluxDensity was, Described by, FluxDensity takes, int string) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("fully charged", own.full().inGauss(), by.full().inGauss()));
    rows.add(List.of("dialed to", was.inGauss(), takes.inGauss()));
    rows.add(List.of("knocked down by", held(own, was).written(), held(by, takes).written()));
    for (double mm : UP_MM) {
      rows.add(
          List.of(
              said("%.1f mm above the pole", mm),
              gauss(own, was, string, 0, mm),
              gauss(by, takes, string, 0, mm)));
    }
    for (double mm : ASIDE_MM) {
      double up = own.distance().mm();
      rows.add(
          List.of(
              said("%.1f mm above, %.0f mm aside", up, mm),
              gauss(own, was, string, mm, up),
              gauss(by, takes, string, mm, up)));
    }
    return new Table(
        List.of(
            Table.Column.ofWords(""),
            Table.Column.ofNumbers(own.kind().alloy().name()),
            Table.Column.ofNumbers(by.kind().alloy().name())),
        rows);
  }

  private static FieldStrength held(Described pickup, FluxDensity level) {
    return pickup.field().level().keeping().peakFor(level);
  }

  private static String keeps(Described own, FluxDensity was, Described by, FluxDensity takes) {
    Keeping keeping = by.field().level().keeping();
    FieldStrength ours = held(own, was);
    FieldStrength theirs = held(by, takes);
    String alone =
        theirs.amperesPerMetre() > 0
            ? "is left alone by an opposing field of up to " + theirs.written()
            : "has no reserve: any opposing field takes some of it";
    return said(
        "It can hold this level: %s of %s, and it %s; the magnet it replaces by up to %s.",
        takes.inGauss(), keeping.full().inGauss(), alone, ours.written());
  }

  private static double tesla(
      Described pickup, FluxDensity level, int string, double asideMm, double upMm) {
    Flux flux = pickup.field().above(string, level).at(new Place(0, asideMm * 1e-3, upMm * 1e-3));
    return Math.abs(flux.zTesla());
  }

  private static String gauss(
      Described pickup, FluxDensity level, int string, double asideMm, double upMm) {
    return said("%.0f G", tesla(pickup, level, string, asideMm, upMm) * 1e4);
  }

  private static ObjectNode document(
      Described own, FluxDensity was, Described by, FluxDensity takes, int string) {
    ObjectNode node = JsonMagnet.ofKind(by.kind(), by.standOff());
    node.put("replacedAlloy", own.kind().alloy().name());
    node.put("replacedLevelTesla", was.tesla());
    node.put("levelTesla", takes.tesla());
    node.put("peakAmperesPerMetre", held(by, takes).amperesPerMetre());
    node.put("replacedPeakAmperesPerMetre", held(own, was).amperesPerMetre());
    node.put("validity", by.field().range(takes));
    ArrayNode above = node.putArray("above");
    for (double mm : UP_MM) {
      ObjectNode each = above.addObject();
      each.put("metres", new Length(mm * 1e-3).metres());
      each.put("replacedTesla", tesla(own, was, string, 0, mm));
      each.put("tesla", tesla(by, takes, string, 0, mm));
    }
    return node;
  }
}
