package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import lodestep.bench.Lots;
import lodestep.magnet.AlloyBook;
import lodestep.paper.AskedWords;
import lodestep.paper.Entered;
import lodestep.paper.LotReport;
import lodestep.paper.Things;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent.LotReceived;
import lodestep.quantity.Nearest;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.HelpCommand;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Lots of stock, and what their magnets read. */
final class StockCommands {

  /** What is entered by options. */
  static final Entered ENTERED = new Entered("--");

  private StockCommands() {}

  /** The group itself, which only says what there is. */
  @Command(
      name = "lot",
      description = "Lots of stock: what came in, and what its magnets read.",
      subcommands = HelpCommand.class)
  static final class OfLots extends Group {
    OfLots(Desk desk) {
      super(desk);
    }
  }

  @Command(
      name = "in",
      description = "Puts on record that a lot came in.",
      footer = {
        "",
        "The name is the one that plans have in their column lot.",
        "",
        "Example: lodestep lot in K-31 --quantity 200 --alloy \"alnico 5\""
      })
  static final class In extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "LOT", description = "its name")
    private String lot = "";

    @Mixin private RecordOf record = new RecordOf();

    @Option(names = "--quantity", paramLabel = "NUMBER", required = true, description = "magnets")
    private long quantity;

    @Option(
        names = "--alloy",
        paramLabel = "ALLOY",
        required = true,
        description = "what the supplier says it is")
    private String alloy = "";

    @Option(names = "--supplier", paramLabel = "WORDS", description = "who sent it")
    private String supplier = "";

    @Option(names = "--said", paramLabel = "WORDS", description = "what else there is to say")
    private String words = "";

    In(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      AlloyBook book = Lots.of(record.rig(desk));
      LotReceived in =
          GaugeCommands.understood(
              () -> ENTERED.lot(new LotReceived(lot, supplier, alloy, quantity, words), book));
      keep(desk, record, in, "Lot " + in.lot() + " is on record");
      return Desk.DONE;
    }
  }

  static void keep(Desk desk, RecordOf record, LedgerEvent event, String sentence) {
    ChainEnd end =
        desk.program()
            .papers()
            .keep(record.rig(desk), record.ledger(desk), event, "an entry by a person");
    desk.print(List.of(sentence + ", entry " + end.number() + "."));
  }

  @Command(
      name = "show",
      description = "Shows a lot: what became of it, and which alloy its magnets read like.",
      footer = {
        "",
        "What its magnets read fully charged is held against nominal ones of each alloy.",
        "",
        "Examples: lodestep lot show",
        "          lodestep lot show K-31"
      })
  static final class Show extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "LOT", arity = "0..1", description = "which; their names if left out")
    private @Nullable String lot;

    @Mixin private RecordOf record = new RecordOf();

    @Option(names = "--json", description = "as JSON")
    private boolean json;

    Show(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      List<String> names = record.read(desk, Things::lots);
      if (lot == null) {
        list(names);
        return Desk.DONE;
      }
      String asked = lot;
      LotReport report = record.read(desk, things -> things.lot(asked));
      if (!report.isKnown()) {
        throw new Refusal(
            names.isEmpty()
                ? "no lot is on record yet"
                : "no lot '" + asked + "' is on record" + Nearest.hint(asked, names));
      }
      AlloyBook book = Lots.of(record.rig(desk));
      if (json) {
        desk.print(document(report, book));
      } else {
        desk.print(words(report, book));
      }
      return Desk.DONE;
    }

    private void list(List<String> names) {
      if (json) {
        ArrayNode all = Json.array();
        names.forEach(all::add);
        desk.print(all);
      } else {
        desk.print(names.isEmpty() ? List.of("No lot is on record yet.") : names);
      }
    }

    static List<String> words(LotReport report, AlloyBook book) {
      List<String> lines = new ArrayList<>();
      for (LotReceived in : report.received()) {
        lines.add(
            said(
                "Lot %s: %d magnets came in%s as %s%s",
                in.lot(),
                in.quantity(),
                in.supplier().isEmpty() ? "" : " from " + in.supplier(),
                in.alloy(),
                in.said().isEmpty() ? "" : "; " + in.said()));
      }
      LotReport.Counts counts = report.counts();
      lines.add(
          said(
              "Not yet worked on %d, uncharged %d, fully charged %d, dialed %d, not accepted %d, in"
                  + " pickups %d, scrapped %d",
              counts.untouched(),
              counts.uncharged(),
              counts.charged(),
              counts.dialed(),
              counts.refused(),
              counts.assembled(),
              counts.scrapped()));
      for (LotReport.Charged charged : report.charged()) {
        lines.add("");
        lines.addAll(words(report, charged, book));
      }
      return lines;
    }

    private static List<String> words(LotReport report, LotReport.Charged charged, AlloyBook book) {
      List<String> lines = new ArrayList<>(List.of(figures(charged)));
      String claim =
          report.received().stream()
              .map(LotReceived::alloy)
              .reduce((earlier, later) -> later)
              .orElse(charged.like().alloy());
      charged.claimed(book, claim).ifPresent(alike -> lines.add(claimed(claim, alike)));
      lines.add(
          "Reads most like "
              + String.join(
                  ", ",
                  charged.alike(book).stream()
                      .map(
                          alike ->
                              said(
                                  "%s (%.1f G, %+.1f %%)",
                                  alike.alloy(), alike.reads() * 1e4, 100 * alike.off()))
                      .toList()));
      return lines;
    }

    private static String claimed(String claim, LotReport.Alike alike) {
      return said(
          "Said to be %s, of which a nominal one reads %.1f G: these read %+.1f %%, %s",
          claim,
          alike.reads() * 1e4,
          100 * alike.off(),
          Math.abs(alike.spreads()) <= 2 ? "as its lots do" : "further off than its lots are");
    }

    private static String figures(LotReport.Charged charged) {
      return said(
          "%d of %s %s fully charged in the %s: mean %.1f G, standard deviation %.1f G (%.1f %%)",
          charged.readings().size(),
          charged.like().shape(),
          AskedWords.size(charged.like()),
          charged.nest(),
          charged.mean() * 1e4,
          charged.deviation() * 1e4,
          100 * charged.deviation() / charged.mean());
    }

    private static ObjectNode document(LotReport report, AlloyBook book) {
      ObjectNode node = Json.object();
      node.put("lot", report.lot());
      ArrayNode received = node.putArray("received");
      report.received().forEach(in -> received.add(Json.ofRecord(in)));
      node.set("counts", Json.ofRecord(report.counts()));
      ArrayNode groups = node.putArray("charged");
      for (LotReport.Charged charged : report.charged()) {
        ObjectNode each = groups.addObject();
        each.put("shape", charged.like().shape());
        each.put("nest", charged.nest());
        each.put("magnets", charged.readings().size());
        each.put("meanTesla", charged.mean());
        each.put("deviationTesla", charged.deviation());
        ArrayNode alike = each.putArray("readsLike");
        charged.alike(book).forEach(one -> alike.add(Json.ofRecord(one)));
      }
      return node;
    }
  }
}
