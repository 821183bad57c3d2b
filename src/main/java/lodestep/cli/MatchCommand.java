package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.bench.Matching;
import lodestep.bench.NestSeatings;
import lodestep.bench.Plan;
import lodestep.config.RigConfig;
import lodestep.dial.Percent;
import lodestep.ledger.AcceptedMagnet;
import lodestep.port.LedgerArchive;
import lodestep.quantity.FluxDensity;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Puts accepted magnets to the positions of sets. */
@Command(
    name = "match",
    description = "Puts accepted magnets to the positions of sets, as well as it can be done.",
    footer = {
      "",
      "The file is a plan, a row a position: its set, alloy, size, pole, target and",
      "tolerance. Each magnet is judged against its position's target. Of all ways the",
      "one is shown that fills most positions, asks for the fewest magnets to be",
      "dialed again, and leaves the least deviations. Where the plan gives a set a",
      "spread, its magnets fit only as long as they differ from one another by no",
      "more, as parts of their targets and as they read: most of what a gauge is not",
      "sure of is the same for all of a set. A magnet that was noted (heat, a drop, a",
      "knock) is left out until it is read again.",
      "",
      "Examples: lodestep match sets.csv",
      "          lodestep match sets.csv --batch 12 --without return.1"
    })
final class MatchCommand extends Asked {

  private final Desk desk;

  @Parameters(paramLabel = "SETS", description = "a CSV file like a plan, a row a position")
  private Path file = Path.of("");

  @Option(
      names = "--batch",
      paramLabel = "NUMBER",
      description = "only magnets of this batch; may be said several times")
  private List<Long> batches = new ArrayList<>();

  @Option(
      names = "--without",
      paramLabel = "MAGNET",
      description = "not this one, by name or number; may be said several times")
  private List<String> without = new ArrayList<>();

  @Option(names = "--ledger", paramLabel = "FILE", description = "the ledger's file")
  private @Nullable Path ledger;

  @Option(names = "--rig", paramLabel = "RIG", description = "rig.toml of the rig that dialed")
  private @Nullable Path rigFile;

  @Option(names = "--json", description = "as JSON")
  private boolean json;

  MatchCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    RigConfig rig = desk.program().rig(Optional.ofNullable(rigFile));
    Path record = desk.ledger(ledger, rigFile);
    Plan plan = Desk.understood(desk.program().setsPlan(file, rig, record));
    List<AcceptedMagnet> all = magnets(record);
    NestSeatings seatings = NestSeatings.of(desk.program().gauge().studies(record));
    List<AcceptedMagnet> left = all.stream().filter(one -> !one.stands()).toList();
    List<AcceptedMagnet> known = all.stream().filter(AcceptedMagnet::stands).toList();
    List<AcceptedMagnet> apart = known.stream().filter(one -> readApart(one, rig)).toList();
    Matching matching = GaugeCommands.understood(() -> Matching.of(plan.rows(), known, seatings));
    if (json) {
      desk.print(document(matching, left, apart));
    } else {
      List<String> lines = new ArrayList<>(words(matching));
      left.forEach(one -> lines.addAll(leftOut(one)));
      if (!apart.isEmpty()) {
        lines.addAll(Wrapped.lines("", apartWords(apart), MagnetCommands.COLUMNS));
      }
      desk.print(lines);
    }
    return matching.complete() ? Desk.DONE : Desk.NOT_ACCEPTED;
  }

  private List<AcceptedMagnet> magnets(Path record) {
    try (LedgerArchive archive = desk.program().archive(record)) {
      return AcceptedMagnet.of(archive).stream()
          .filter(magnet -> batches.isEmpty() || batches.contains(magnet.identity().batch()))
          .filter(magnet -> without.stream().noneMatch(word -> means(word, magnet)))
          .toList();
    }
  }

  /** Its nest is still there, and reads from another distance. */
  private static boolean readApart(AcceptedMagnet one, RigConfig rig) {
    return rig.nests().stream()
        .filter(nest -> nest.name().equals(one.identity().nest()))
        .anyMatch(nest -> !Matching.readAlike(nest, one));
  }

  private static String apartWords(List<AcceptedMagnet> apart) {
    AcceptedMagnet first = apart.get(0);
    return said(
        "Left out, since their nest's spacer was another when they were read: %d, such as"
            + " %s, number %d, read %.2f mm from its face; levels compare only where they are taken"
            + " alike, so dial these again or name the rig of then with --rig",
        apart.size(), first.identity().name(), first.magnet(), first.standOffMicroMetres() * 1e-3);
  }

  /** Nobody knows what it reads now, or what counts was not proven inside its tolerance. */
  private static List<String> leftOut(AcceptedMagnet one) {
    String name = NoteCommand.quoted(one.identity().name());
    String why =
        one.noted()
            .map(
                noted ->
                    said(
                        "a %s was noted since it was read; read it again with: lodestep reread %s",
                        noted.what(), name))
            .orElseGet(
                () ->
                    "read at several points, "
                        + one.points().orElseThrow().why()
                        + "; dial it again, or read it again with: lodestep points "
                        + name);
    return Wrapped.lines(
        "",
        said("%s, number %d, is left out: %s", one.identity().name(), one.magnet(), why),
        MagnetCommands.COLUMNS);
  }

  private static boolean means(String word, AcceptedMagnet magnet) {
    return word.equalsIgnoreCase(magnet.identity().name())
        || word.equals(Long.toString(magnet.magnet()));
  }

  private static List<String> words(Matching matching) {
    List<String> lines =
        new ArrayList<>(
            new Table(
                    List.of(
                        Table.Column.ofWords("set"),
                        Table.Column.ofWords("position"),
                        Table.Column.ofNumbers("target"),
                        Table.Column.ofWords("magnet"),
                        Table.Column.ofNumbers("number"),
                        Table.Column.ofNumbers("reads"),
                        Table.Column.ofNumbers("off"),
                        Table.Column.ofWords("what to do")),
                    matching.places().stream().map(MatchCommand::row).toList())
                .lines());
    lines.add("");
    for (Matching.SetFigures set : matching.sets()) {
      lines.addAll(words(set));
    }
    if (!matching.best()) {
      lines.add("The search was ended before it could tell whether another way is better.");
    }
    long again = count(matching, Matching.Remedy.KNOCK_DOWN);
    long charge = count(matching, Matching.Remedy.CHARGE);
    long open = matching.places().stream().filter(place -> place.magnet().isEmpty()).count();
    if (again + charge > 0) {
      lines.add(
          said("To be dialed again: %d knocked down further, %d charged anew.", again, charge));
    }
    if (open > 0) {
      lines.add(said("No magnet of the kind is left for %d of the positions.", open));
    }
    return lines;
  }

  private static List<String> words(Matching.SetFigures set) {
    String name = set.set().isEmpty() ? "positions in no set" : set.set();
    String line =
        said(
            "%s: %d of %d filled as they are; spread %.2f %%%s, worst %.2f %% off its target",
            name,
            set.fitting(),
            set.positions(),
            100 * set.spread(),
            set.asked().map(part -> " of the " + Percent.words(part) + " it may have").orElse(""),
            100 * set.worst());
    List<String> lines = new ArrayList<>(Wrapped.lines("", line, MagnetCommands.COLUMNS));
    set.room()
        .ifPresent(
            room ->
                lines.addAll(
                    Wrapped.lines(
                        "",
                        said(
                            "What is dialed again goes with these from %+.2f %% to %+.2f %% off"
                                + " its target.",
                            100 * room.least(), 100 * room.most()),
                        MagnetCommands.COLUMNS)));
    return lines;
  }

  private static long count(Matching matching, Matching.Remedy remedy) {
    return matching.places().stream()
        .flatMap(place -> place.magnet().stream())
        .filter(placed -> placed.remedy() == remedy)
        .count();
  }

  private static List<String> row(Matching.Place place) {
    List<String> cells = new ArrayList<>();
    cells.add(place.position().set());
    cells.add(place.position().name());
    cells.add(place.position().level().target().inGauss());
    if (place.magnet().isEmpty()) {
      cells.addAll(List.of("-", "", "", "", "open: none of this kind is left"));
      return cells;
    }
    Matching.Placed placed = place.magnet().get();
    cells.add(placed.magnet().identity().name());
    cells.add(String.valueOf(placed.magnet().magnet()));
    cells.add(FluxDensity.ofMicroTesla(placed.magnet().fieldMicroTesla()).inGauss());
    cells.add(placed.otherPole() ? "other pole" : said("%+.2f %%", 100 * placed.deviation()));
    cells.add(
        remedy(placed.remedy())
            + (placed.otherPole() ? " it the other way round" : "")
            + (placed.unlikeItsSet() ? ", to go with its set" : ""));
    return cells;
  }

  private static String remedy(Matching.Remedy remedy) {
    return switch (remedy) {
      case FITS -> "fits";
      case KNOCK_DOWN -> "dial again: knock down";
      case CHARGE -> "dial again: charge";
    };
  }

  private static ObjectNode document(
      Matching matching, List<AcceptedMagnet> left, List<AcceptedMagnet> apart) {
    ObjectNode node = Json.object();
    node.put("complete", matching.complete());
    node.put("best", matching.best());
    ArrayNode again = node.putArray("toBeReadAgain");
    ArrayNode outside = node.putArray("notInsideAtPoints");
    left.forEach(one -> (one.noted().isPresent() ? again : outside).add(one.magnet()));
    ArrayNode elsewhere = node.putArray("readAtAnotherStandOff");
    apart.forEach(one -> elsewhere.add(one.magnet()));
    ArrayNode places = node.putArray("places");
    for (Matching.Place place : matching.places()) {
      ObjectNode each = places.addObject();
      each.put("set", place.position().set());
      each.put("position", place.position().name());
      each.put("targetMicroTesla", place.position().level().target().microTesla());
      place
          .magnet()
          .ifPresent(
              placed -> {
                each.put("magnet", placed.magnet().magnet());
                each.put("name", placed.magnet().identity().name());
                each.put("fieldMicroTesla", placed.magnet().fieldMicroTesla());
                each.put("deviationFraction", placed.deviation());
                each.put("otherPole", placed.otherPole());
                each.put("toDo", remedy(placed.remedy()));
                each.put("unlikeItsSet", placed.unlikeItsSet());
              });
    }
    ArrayNode sets = node.putArray("sets");
    for (Matching.SetFigures set : matching.sets()) {
      ObjectNode each = sets.addObject();
      each.put("set", set.set());
      each.put("positions", set.positions());
      each.put("fitting", set.fitting());
      each.put("spreadFraction", set.spread());
      each.put("worstFraction", set.worst());
      set.asked().ifPresent(part -> each.put("spreadAskedFraction", part));
    }
    return node;
  }
}
