package lodestep.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.bench.WoundPickup;
import lodestep.ledger.MagnetHistory;
import lodestep.paper.AskedWords;
import lodestep.port.ActEvent;
import lodestep.port.GaugeEvent;
import lodestep.port.KeepingEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Voltage;

/** The history of one magnet as a table: a row for everything that happened to it. */
public final class HistoryTable {

  private HistoryTable() {}

  /** One row for each happening, oldest first. */
  public static Table of(MagnetHistory history) {
    return new Table(
        List.of(
            Table.Column.ofNumbers("entry"),
            Table.Column.ofWords("when (UTC)"),
            Table.Column.ofNumbers("attempt"),
            Table.Column.ofWords("what"),
            Table.Column.ofNumbers(setting(history)),
            Table.Column.ofNumbers("peak"),
            Table.Column.ofNumbers("reading"),
            Table.Column.ofWords("how it went")),
        dated(history));
  }

  private static List<List<String>> dated(MagnetHistory history) {
    List<List<String>> rows = rows(history);
    for (int at = 0; at < rows.size(); at++) {
      rows.get(at).add(1, ClockWords.minute(history.happenings().get(at).wall()));
    }
    return rows;
  }

  /** Its rows alone, which anyone may change. */
  static List<List<String>> rows(MagnetHistory history) {
    List<List<String>> rows = new ArrayList<>();
    for (MagnetHistory.Happening happening : history.happenings()) {
      List<String> row = new ArrayList<>();
      row.add(String.valueOf(happening.number()));
      row.add(String.valueOf(happening.attempt()));
      row.addAll(happening.what().match(new Words()));
      rows.add(row);
    }
    return rows;
  }

  /** A row for each magnet: where it stands. */
  static Table inShort(List<MagnetHistory> histories) {
    List<List<String>> rows = new ArrayList<>();
    for (MagnetHistory history : histories) {
      Optional<LedgerEvent.VerdictGiven> verdict = history.standingVerdict();
      rows.add(
          List.of(
              String.valueOf(history.magnet()),
              history.identity().name(),
              AskedWords.of(history.identity()),
              verdict.map(given -> Words.gauss(given.fieldMicroTesla())).orElse(""),
              verdict.map(LedgerEvent.VerdictGiven::verdict).orElse("open"),
              history.namedWall().toString().substring(0, 10)));
    }
    return new Table(
        List.of(
            Table.Column.ofNumbers("magnet"),
            Table.Column.ofWords("name"),
            Table.Column.ofWords("what"),
            Table.Column.ofNumbers("reads"),
            Table.Column.ofWords("verdict"),
            Table.Column.ofWords("begun")),
        rows);
  }

  /** What the acts were made with: one word when all are of one kind. */
  private static String setting(MagnetHistory history) {
    List<String> words =
        history.acts().stream().map(act -> madeWith(act.intent())).distinct().toList();
    return words.size() == 1 ? words.get(0) : "setting";
  }

  private static String madeWith(ActEvent.Intent intent) {
    if (intent instanceof ActEvent.StrokeIntended) {
      return "jig";
    }
    return intent instanceof ActEvent.SwitchedPulseIntended ? "ladder" : "bank";
  }

  private static final class Words implements MagnetHistory.Arms<List<String>> {

    @Override
    public List<String> started(LedgerEvent.MagnetStarted event) {
      return List.of("started in " + event.nest(), "", "", "", "");
    }

    @Override
    public List<String> proven(LedgerEvent.BankProven event) {
      return List.of(
          "bank proven",
          Voltage.ofMilliVolts(event.filledMilliVolts()).written(),
          ElectricCurrent.ofMilliAmps(event.coilMilliAmps()).written(),
          "",
          "fill contact opens, switch blocks, bleed works");
    }

    @Override
    public List<String> reading(LedgerEvent.ReadingTaken event) {
      return List.of(
          "reading, " + event.stage(),
          "",
          "",
          gauss(event.fieldMicroTesla()),
          uncertainty(event.uncertaintyNanoTesla()));
    }

    @Override
    public List<String> acted(ActEvent.Intent intent, Optional<ActEvent.ActEnded> end) {
      String direction = intent.drivesNorth() ? "north" : "south";
      PulseFigures figures = PulseFigures.of(intent, end);
      return List.of(
          PulseFigures.noun(intent) + ", " + intent.purpose() + ", " + direction,
          figures.setting(),
          figures.peak(),
          "",
          end.map(Words::outcome).orElse("no end on record"));
    }

    @Override
    public List<String> byHand(LedgerEvent.ActByHand event) {
      return List.of(
          "by hand, " + event.act() + ", " + (event.drivesNorth() ? "north" : "south"),
          "",
          "",
          gauss(event.afterMicroTesla()),
          // Nought stands for not read; no magnet reads exactly that.
          (event.beforeMicroTesla() == 0 ? "" : "from " + gauss(event.beforeMicroTesla()) + "; ")
              + "asked: "
              + event.asked());
    }

    @Override
    public List<String> typed(LedgerEvent.ReadingTyped event) {
      String pole = event.pole().isEmpty() ? "pole not said" : event.pole();
      return List.of(
          "typed, not ours", "", "", "", event.gauge() + ": " + event.typed() + " (" + pole + ")");
    }

    @Override
    public List<String> atPoints(GaugeEvent.PointEvent event) {
      if (event instanceof GaugeEvent.PointRead read) {
        return List.of(
            "point " + read.point() + ", " + read.face() + " face",
            "",
            "",
            gauss(read.fieldMicroTesla()),
            uncertainty(read.uncertaintyNanoTesla()));
      }
      if (event instanceof GaugeEvent.PointsJudged judged) {
        return List.of(
            judged.counts() + " of its points",
            "",
            "",
            gauss(judged.fieldMicroTesla()),
            judged.why());
      }
      GaugeEvent.PointsStarted begun = (GaugeEvent.PointsStarted) event;
      boolean both = begun.faces().equals("both");
      return List.of(
          "read at points",
          "",
          "",
          "",
          begun.points().replace("\n", ", ") + (both ? ", both faces" : ", strings face"));
    }

    @Override
    public List<String> trip(LedgerEvent.Tripped event) {
      return List.of("trip " + event.code(), "", "", "", event.cause());
    }

    @Override
    public List<String> corrected(StockEvent event) {
      if (event instanceof StockEvent.MagnetWound wound) {
        return List.of("in a winding", "", "", "", WoundPickup.of(wound).words());
      }
      if (event instanceof StockEvent.TargetTold told) {
        String asked = gauss(told.targetMicroTesla()) + " ± " + gauss(told.toleranceMicroTesla());
        return List.of("target told", "", "", "", asked + " by " + told.gauge());
      }
      return List.of(EventWords.kind(event), "", "", "", EventWords.fields(event));
    }

    @Override
    public List<String> verdict(LedgerEvent.VerdictGiven event) {
      // A reading has an uncertainty; without one the attempt ended before anything was read.
      boolean read = event.uncertaintyNanoTesla() > 0;
      String reading = read ? gauss(event.fieldMicroTesla()) : "";
      String guard =
          event.guardNanoTesla() > 0
              ? String.format(Locale.ROOT, "; guard band %.2f G", event.guardNanoTesla() * 1e-5)
              : "";
      return List.of(event.verdict(), "", "", reading, event.why() + guard);
    }

    @Override
    public List<String> asked(KeepingEvent.KeepingAsked event) {
      return List.of("asked to keep", "", "", "", KeepingWords.asked(event));
    }

    @Override
    public List<String> noted(KeepingEvent.MagnetNoted event) {
      String said = event.said().isEmpty() ? "" : event.said() + "; ";
      return List.of("noted: " + event.what(), "", "", "", said + "to be read again");
    }

    @Override
    public List<String> reread(KeepingEvent.MagnetReread event) {
      return List.of(event.finding(), "", "", gauss(event.fieldMicroTesla()), event.why());
    }

    private static String outcome(ActEvent.ActEnded ended) {
      return ended.why().isEmpty() ? ended.outcome() : ended.outcome() + ": " + ended.why();
    }

    private static String gauss(long microTesla) {
      return FluxDensity.ofMicroTesla(microTesla).inGauss();
    }

    private static String uncertainty(long nanoTesla) {
      return String.format(Locale.ROOT, "± %.2f G (k = 2)", 2 * nanoTesla * 1e-5);
    }
  }
}
