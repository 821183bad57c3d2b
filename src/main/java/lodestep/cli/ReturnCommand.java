package lodestep.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import lodestep.bench.Lots;
import lodestep.bench.PoleJob;
import lodestep.dial.Percent;
import lodestep.magnet.AlloyBook;
import lodestep.paper.ReturnCase;
import lodestep.paper.ReturnCheck;
import lodestep.paper.ReturnReport;
import lodestep.paper.ReturnWork;
import lodestep.paper.Things;
import lodestep.paper.Things.Thing;
import lodestep.port.ChainEnd;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** The return check of a pickup. */
@Command(
    name = "return",
    description = "Guides the return check of a pickup: whether its magnets have changed.",
    footer = {
      "",
      "Its pole tops are read and held against those on record, at equal temperature,",
      "with uncertainties, placing and expected ageing counted. Where only its loose",
      "magnets were read, the doubt is wider; where nothing was, it is read as found.",
      "On the virtual rig --virtual-field tries what a stray field does.",
      "",
      "Examples: lodestep pickup return \"Plover 12\" --pdf plover-12-return.pdf",
      "          lodestep pickup return \"Plover 12\" --virtual-field \"24 kA/m\""
    })
final class ReturnCommand extends Asked {

  private static final int COLUMNS = 96;

  private final Desk desk;

  @Parameters(paramLabel = "NAME", description = "the pickup")
  private String name = "";

  @Mixin private PoleReading reading = new PoleReading();

  @Option(
      names = "--counts",
      paramLabel = "PART",
      defaultValue = "1.5 %",
      description = "the smallest change that counts as one (${DEFAULT-VALUE})")
  private String counts = "";

  @Option(names = "--pdf", paramLabel = "FILE", description = "the report as PDF, too")
  private @Nullable Path pdf;

  @Option(names = "--json", description = "the result as JSON, everything else on stderr")
  private boolean json;

  ReturnCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    double least =
        Percent.fraction(counts)
            .filter(part -> part > 0 && part < 1)
            .orElseThrow(() -> new Refusal("--counts: a part like \"1.5 %\", not " + counts));
    ReturnWork known = reading.record().read(desk, this::known);
    PoleJob.Done done = read(known);
    if (!done.poles().whole()) {
      return Desk.NOT_ACCEPTED;
    }
    if (known.before().isEmpty()) {
      return nothingBefore(known);
    }
    long round = done.poles().work().round();
    AlloyBook book = Lots.of(reading.record().rig(desk));
    ReturnReport report =
        reading.record().read(desk, things -> known.report(things, round, least, book));
    ChainEnd judged =
        desk.program()
            .papers()
            .keep(
                reading.record().rig(desk),
                reading.record().ledger(desk),
                report.entry(),
                "the return check is on record");
    tell(report, judged, known);
    return report.result().verdict() == ReturnCheck.Verdict.UNCHANGED
        ? Desk.DONE
        : Desk.NOT_ACCEPTED;
  }

  private ReturnWork known(Things things) {
    return ReturnWork.of(things, PickupCommands.pickup(things, PickupCommands.named(name)));
  }

  private PoleJob.Done read(ReturnWork known) {
    return PoleReading.read(
        desk,
        reading.run(
            desk,
            known.pickup().number(),
            known.pickup().built(),
            known.pickup().nextRound(),
            known.stage(),
            known.round(),
            known.magnets()),
        json ? desk.err() : desk.out());
  }

  private int nothingBefore(ReturnWork known) {
    String sentence = known.nothingBefore();
    if (json) {
      ObjectNode node = Json.object();
      node.put("pickup", known.pickup().number());
      node.put("verdict", ReturnCheck.Verdict.CANNOT_TELL.word());
      node.put("why", sentence);
      desk.print(node);
    } else {
      desk.print(List.of(sentence));
    }
    return Desk.NOT_ACCEPTED;
  }

  private void tell(ReturnReport report, ChainEnd judged, ReturnWork known) {
    if (pdf != null) {
      desk.program()
          .papers()
          .write(
              report.sheet(
                  judged,
                  reading.record().papers(desk).subject(new Thing.OfPickup(known.pickup()))),
              pdf);
    }
    if (json) {
      desk.print(document(report, judged));
      return;
    }
    List<String> lines = new ArrayList<>();
    lines.add("");
    lines.addAll(changes(report).lines());
    lines.add("");
    lines.addAll(Wrapped.lines("", report.verdict(), COLUMNS));
    report.taken().ifPresent(words -> lines.addAll(Wrapped.lines("", words, COLUMNS)));
    lines.add("");
    lines.addAll(Wrapped.lines("For the customer: ", report.forCustomer(), COLUMNS));
    lines.add("");
    lines.addAll(Wrapped.lines("", report.how(), COLUMNS));
    lines.add("On record as entry " + judged.number() + (pdf == null ? "." : "; report: " + pdf));
    desk.print(lines);
  }

  private static Table changes(ReturnReport report) {
    List<List<String>> rows = new ArrayList<>();
    for (int at = 0; at < report.result().poles().size(); at++) {
      ReturnCheck.Pole pole = report.check().poles().get(at);
      rows.add(
          row(
              String.valueOf(pole.pole()),
              MagnetCommands.said("%.1f", pole.then().tesla() * 1e4),
              MagnetCommands.said("%.1f", pole.now().tesla() * 1e4),
              report.result().poles().get(at)));
    }
    rows.add(row("all", "", "", report.result().mean()));
    return new Table(
        List.of(
            Table.Column.ofNumbers("pole"),
            Table.Column.ofNumbers("then/G"),
            Table.Column.ofNumbers("now/G"),
            Table.Column.ofNumbers("change/%"),
            Table.Column.ofNumbers("U/%"),
            Table.Column.ofNumbers("unchanged/%"),
            Table.Column.ofNumbers("lost/%"),
            Table.Column.ofNumbers("gained/%")),
        rows);
  }

  private static List<String> row(String pole, String then, String now, ReturnCheck.Change change) {
    return List.of(
        pole,
        then,
        now,
        percent("%+.2f", change.change()),
        percent("%.2f", 2 * change.u()),
        percent("%.1f", change.odds().unchanged()),
        percent("%.1f", change.odds().lost()),
        percent("%.1f", change.odds().gained()));
  }

  private static String percent(String form, double part) {
    return String.format(Locale.ROOT, form, 100 * part);
  }

  private static ObjectNode document(ReturnReport report, ChainEnd judged) {
    ObjectNode node = Json.object();
    node.put("pickup", report.of().pickup().number());
    node.put("entry", judged.number());
    node.put("hash", judged.hash().toString());
    node.put("verdict", report.result().verdict().word());
    node.put("probability", report.result().probability());
    node.put("why", report.verdict());
    node.put("whatTakesThat", report.taken().orElse(""));
    node.put("forCustomer", report.forCustomer());
    node.put(
        "heldAgainst",
        report.of().before() instanceof ReturnCase.Before.Tops ? "pole tops" : "loose magnets");
    node.put("expectedAgeing", report.check().ageing());
    node.set("mean", Json.ofRecord(report.result().mean()));
    ArrayNode poles = node.putArray("poles");
    report.result().poles().forEach(change -> poles.add(Json.ofRecord(change)));
    return node;
  }
}
