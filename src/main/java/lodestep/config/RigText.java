package lodestep.config;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lodestep.quantity.Capacitance;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Inductance;
import lodestep.quantity.Resistance;

/** Writes a rig out for people. */
final class RigText {

  private static final String GAP = "  ";

  private RigText() {}

  private static String gain(GaugeConfig.Gain gain) {
    return gain.equals(GaugeConfig.Gain.UNSAID)
        ? ""
        : said(
            ", known to %.2f %%, %+.3f %% per kelvin",
            100 * gain.uncertainty(), 100 * gain.perKelvin());
  }

  static String of(RigConfig rig) {
    List<List<String>> facts = new ArrayList<>();
    facts.add(List.of("rig", rig.name() + ", " + rig.kind().word()));
    facts.add(List.of("head", head(rig.head())));
    facts.addAll(bank(rig));
    facts.add(
        List.of(
            "gauge",
            said(
                    "%.0f counts per tesla, clips at %.0f mT",
                    rig.gauge().countsPerTesla(), rig.gauge().range().tesla() * 1e3)
                + (rig.gauge().element().metres() == 0
                    ? ""
                    : said(", element of %.2f mm", rig.gauge().element().mm()))
                + gain(rig.gauge().gain())));
    List<String> blocks = new ArrayList<>();
    blocks.add(table(facts));
    if (!rig.coils().isEmpty()) {
      blocks.add(coils(rig));
    }
    rig.supply()
        .ifPresent(
            supply ->
                rig.coils().forEach(coil -> blocks.add(table(SupplyText.levels(supply, coil)))));
    rig.jig().ifPresent(jig -> blocks.add(JigText.of(jig)));
    blocks.add(nests(rig));
    if (!rig.gauge().references().isEmpty()) {
      blocks.add(references(rig));
    }
    if (!rig.lots().isEmpty()) {
      blocks.add(lots(rig));
    }
    if (!rig.pins().isEmpty()) {
      blocks.add(pins(rig));
    }
    return String.join("\n", blocks);
  }

  private static String head(HeadConfig head) {
    if (head instanceof HeadConfig.SerialHead serial) {
      return "on the serial line "
          + serial.port()
          + (serial.serialNumber().isEmpty() ? "" : ", serial number " + serial.serialNumber());
    }
    return "the virtual head, inside the program";
  }

  private static List<List<String>> bank(RigConfig rig) {
    if (rig.headAlone()) {
      return List.of(List.of("drives", "nothing: magnets are charged and knocked down by hand"));
    }
    List<List<String>> facts = new ArrayList<>();
    facts.add(List.of("does", JigText.sources(rig.sources())));
    if (rig.supply().isPresent()) {
      facts.addAll(SupplyText.facts(rig.supply().get()));
    } else if (rig.hasBank()) {
      facts.add(List.of("bank", bankHolds(rig.bank())));
      facts.add(List.of("", bankFills(rig.bank())));
      facts.add(List.of("", bankEmpties(rig.bank())));
    } else {
      facts.add(List.of("bank", "none"));
    }
    if (!rig.coils().isEmpty()) {
      facts.add(List.of("relays", relays(rig.relays())));
    }
    return facts;
  }

  private static String relays(RelayConfig relays) {
    if (!relays.named()) {
      return "how often they may work is not said; [relays] in rig.toml says it";
    }
    return said("%,d operations expected of each by its data sheet", relays.operations())
        + (relays.newSince().isEmpty() ? "" : ", new since " + relays.newSince());
  }

  private static String bankHolds(BankConfig bank) {
    return new Capacitance(bank.capacitanceFarads()).written()
        + ", asked for at most "
        + bank.voltageMax().written()
        + " = "
        + bank.energyMax().written()
        + (bank.newSince().isEmpty() ? "" : ", new since " + bank.newSince());
  }

  private static String bankFills(BankConfig bank) {
    return "filled from "
        + bank.supplyVoltage().written()
        + " through "
        + ohms(bank.fillOhms())
        + ", reaches "
        + bank.reachedVoltage().written();
  }

  private static String bankEmpties(BankConfig bank) {
    return said(
        "bleeder %s, time constant %.0f s; bleed contact %s, low within %.1f s",
        ohms(bank.bleederOhms()),
        bank.bleederOhms() * bank.capacitanceFarads(),
        ohms(bank.bleedOhms()),
        bank.bleedSeconds(Limits.standard().bankLow()));
  }

  private static String references(RigConfig rig) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("reference", "nest", "certificate", "of"));
    for (ReferenceConfig reference : rig.gauge().references()) {
      rows.add(
          List.of(
              reference.name(),
              reference.nest(),
              reference.value().inGauss() + " ± " + reference.uncertainty().inGauss() + " (k = 2)",
              reference.date()));
    }
    return table(rows);
  }

  private static String lots(RigConfig rig) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("lot", "alloy", "measured", "figures"));
    for (LotConfig lot : rig.lots()) {
      String figures =
          lot.figures().entrySet().stream()
              .sorted(Comparator.comparing(figure -> LotConfig.KEYS.indexOf(figure.getKey())))
              .map(figure -> said("%s %s", figure.getKey(), figure.getValue()))
              .collect(Collectors.joining(", "));
      if (!lot.curve().isEmpty()) {
        String curve = said("a curve of %d points", lot.curve().size());
        figures = figures.isEmpty() ? curve : curve + ", " + figures;
      }
      rows.add(List.of(lot.name(), lot.alloy(), lot.measured(), figures));
    }
    return table(rows);
  }

  private static String coils(RigConfig rig) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(
        List.of(
            "coil", "resistance", "inductance", "field", "series", "heat", "cooling", "at most"));
    for (CoilConfig coil : rig.coils()) {
      rows.add(
          List.of(
              coil.name(),
              ohms(coil.resistanceOhms()),
              new Inductance(coil.inductanceHenries()).written(),
              new FieldStrength(coil.fieldPerAmp()).written() + " per A",
              rig.supply().isPresent() ? "ladder" : ohms(coil.seriesOhms()),
              said("%.0f J/K", coil.heatJoulesPerKelvin()),
              said("%.1f K/W", coil.coolingKelvinPerWatt()),
              coil.temperatureMax().written()));
    }
    return table(rows);
  }

  private static String nests(RigConfig rig) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("nest", "shape", "stand-off", "coil"));
    for (NestConfig nest : rig.nests()) {
      rows.add(
          List.of(
              nest.name(),
              nest.shape(),
              nest.standOff().written(),
              nest.coil().isEmpty() ? "none" : nest.coil()));
    }
    return table(rows);
  }

  private static String pins(RigConfig rig) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("line", "pin"));
    for (String name : PinNames.ALL) {
      if (rig.pins().containsKey(name)) {
        rows.add(List.of(name, Integer.toString(rig.pins().get(name))));
      }
    }
    return table(rows);
  }

  /** Columns that line up; no blanks at the ends of lines. */
  static String table(List<List<String>> rows) {
    List<Integer> widths =
        IntStream.range(0, rows.get(0).size()).mapToObj(column -> width(rows, column)).toList();
    return rows.stream().map(row -> line(row, widths)).collect(Collectors.joining());
  }

  private static int width(List<List<String>> rows, int column) {
    return rows.stream().mapToInt(row -> row.get(column).length()).max().orElse(0);
  }

  private static String line(List<String> row, List<Integer> widths) {
    StringBuilder line = new StringBuilder();
    for (int column = 0; column < row.size(); column++) {
      String cell = row.get(column);
      line.append(cell).append(" ".repeat(widths.get(column) - cell.length())).append(GAP);
    }
    return line.toString().stripTrailing() + "\n";
  }

  private static String ohms(double ohms) {
    return new Resistance(ohms).written();
  }

  private static String said(String format, Object... figures) {
    return String.format(Locale.ROOT, format, figures);
  }
}
