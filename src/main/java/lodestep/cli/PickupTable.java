package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.ledger.Pickup;
import lodestep.paper.AskedWords;
import lodestep.paper.Certificate;
import lodestep.port.StockEvent.PoleTopRead;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/** Pickups as tables. */
final class PickupTable {

  private static final int DAY = 10;

  private PickupTable() {}

  static Table of(List<Pickup> pickups) {
    List<List<String>> rows = new ArrayList<>();
    for (Pickup pickup : pickups) {
      rows.add(
          List.of(
              String.valueOf(pickup.number()),
              pickup.built().name(),
              pickup.built().order(),
              day(pickup.wall()),
              String.valueOf(pickup.built().poles()),
              newest(pickup).map(round -> round.stage() + ", " + day(round.wall())).orElse(""),
              pickup.judged().isEmpty()
                  ? ""
                  : pickup.judged().get(pickup.judged().size() - 1).event().verdict()));
    }
    return new Table(
        List.of(
            Table.Column.ofNumbers("pickup"),
            Table.Column.ofWords("name"),
            Table.Column.ofWords("order"),
            Table.Column.ofWords("on record"),
            Table.Column.ofNumbers("poles"),
            Table.Column.ofWords("last read"),
            Table.Column.ofWords("return check")),
        rows);
  }

  private static Optional<Pickup.Round> newest(Pickup pickup) {
    return pickup.rounds().stream().reduce((earlier, later) -> later);
  }

  static List<String> of(Pickup pickup, List<Certificate.Level> levels) {
    List<String> lines = new ArrayList<>();
    lines.add(
        said(
            "Pickup %d, %s, on record since %s (UTC)",
            pickup.number(), pickup.built().name(), day(pickup.wall())));
    for (String words :
        List.of(pickup.built().order(), pickup.built().winding(), pickup.built().said())) {
      if (!words.isEmpty()) {
        lines.add(words);
      }
    }
    levels.forEach(level -> lines.add(words(level)));
    if (!pickup.rounds().isEmpty()) {
      lines.add("");
      lines.addAll(rounds(pickup).lines());
    }
    for (Pickup.Judged judged : pickup.judged()) {
      lines.add("");
      lines.addAll(
          Wrapped.lines(
              "",
              "Return check of "
                  + day(judged.wall())
                  + ", entry "
                  + judged.number()
                  + ": "
                  + judged.event().why(),
              96));
    }
    return lines;
  }

  private static String words(Certificate.Level level) {
    return "  "
        + level.history().identity().name()
        + ": "
        + AskedWords.of(level.history().identity())
        + ", accepted at "
        + FluxDensity.ofMicroTesla(level.verdict().fieldMicroTesla()).inGauss()
        + " on "
        + day(level.wall());
  }

  /** A row a pole, a column a round. */
  private static Table rounds(Pickup pickup) {
    List<Table.Column> columns = new ArrayList<>(List.of(Table.Column.ofNumbers("pole")));
    for (Pickup.Round round : pickup.rounds()) {
      PoleTopRead first = round.poles().get(0);
      columns.add(
          Table.Column.ofNumbers(
              round.stage()
                  + " "
                  + day(round.wall())
                  + ", "
                  + Length.ofMicroMetres(first.spacerMicroMetres()).written()));
    }
    List<List<String>> rows = new ArrayList<>();
    for (long pole = 1; pole <= pickup.built().poles(); pole++) {
      List<String> row = new ArrayList<>(List.of(String.valueOf(pole)));
      for (Pickup.Round round : pickup.rounds()) {
        long asked = pole;
        row.add(
            round.poles().stream()
                .filter(top -> top.pole() == asked)
                .map(top -> FluxDensity.ofMicroTesla(top.fieldMicroTesla()).inGauss())
                .findFirst()
                .orElse("not read"));
      }
      rows.add(row);
    }
    return new Table(columns, rows);
  }

  /** The day at Greenwich. */
  static String day(Instant wall) {
    return wall.toString().substring(0, DAY);
  }
}
