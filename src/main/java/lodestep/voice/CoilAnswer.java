package lodestep.voice;

import static lodestep.voice.PullTable.said;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import lodestep.port.Plot;
import lodestep.voice.Told.Passage;

/**
 * Where a pickup's coil rings, with its cable and load. Any thread, immutable.
 *
 * @param rings the one coil, or one for each value that what is missing may have
 * @param coils the same with resistance and load; empty where one of them is missing
 * @param unsaid which of the two is missing; empty if none
 * @param missing "inductance" or "capacitance"; empty if nothing is
 * @param turns the coil by its turns, where its inductance was reckoned from them
 * @param lacking what would have to be said for an inductance; empty if nothing
 */
public record CoilAnswer(
    List<Ring> rings,
    List<CoilCircuit> coils,
    List<Said> unsaid,
    String missing,
    Optional<CoilTurns> turns,
    String lacking) {

  /** The notes at which its curve is told, in hertz. */
  public static final List<Integer> NOTES =
      List.of(100, 500, 1_000, 1_500, 2_000, 3_000, 4_000, 6_000, 9_000);

  /** Where its curve begins, in hertz; what is along the bottom of the plot is told from there. */
  public static final double FROM_HERTZ = 100;

  private static final int STEPS = 120;
  private static final double DECADES = 2.1;

  /** What pickups have, in henries; common practice, no source. */
  private static final List<Double> MAY_BE_HENRIES = List.of(2.0, 3.0, 4.0, 6.0, 8.0);

  /** Coil with a short and a long cable; common practice, no source. */
  private static final List<Double> MAY_BE_FARADS = List.of(300e-12, 500e-12, 700e-12, 1000e-12);

  public CoilAnswer {
    rings = List.copyOf(rings);
    coils = List.copyOf(coils);
    unsaid = List.copyOf(unsaid);
  }

  /**
   * Coil and capacitance without any loss.
   *
   * @param henry of the coil
   * @param farad of coil and cable
   */
  public record Ring(double henry, double farad) {

    /** 1/(2&pi;&radic;(LC)), in hertz: it needs neither resistance nor load. */
    public double hertz() {
      return 1 / (2 * Math.PI * Math.sqrt(henry * farad));
    }
  }

  /**
   * Works it out.
   *
   * @throws IllegalArgumentException with one sentence, if a figure is no coil's or too much is
   *     missing
   */
  public static CoilAnswer of(PickupAsked asked, PickupWords words) {
    asked.requireCoil(words);
    Optional<Double> measured = asked.measured(words);
    Optional<CoilTurns> turns = measured.isPresent() ? Optional.empty() : asked.turns(words);
    Optional<Double> henry = measured.or(() -> turns.map(CoilTurns::henries));
    Optional<Double> farad = asked.farads(words);
    String sign = asked.sign();
    if (henry.isEmpty() && farad.isEmpty()) {
      throw new IllegalArgumentException(
          said(
              "inductance and capacitance are both missing, and it rings by the two: say one of"
                  + " them at least, %1$sinductance (or %1$sturns with %1$swinding), or"
                  + " %1$scapacitance",
              sign));
    }
    List<Ring> rings = new ArrayList<>();
    for (double l : henry.map(List::of).orElse(MAY_BE_HENRIES)) {
      for (double c : farad.map(List::of).orElse(MAY_BE_FARADS)) {
        CoilCircuit.require(l, c);
        rings.add(new Ring(l, c));
      }
    }
    List<Said> unsaid =
        Stream.of(Said.RESISTANCE, Said.LOAD).filter(field -> !words.says(field)).toList();
    List<CoilCircuit> coils = new ArrayList<>();
    if (unsaid.isEmpty()) {
      double ohms = asked.ohms(words, Said.RESISTANCE);
      double loadOhms = asked.ohms(words, Said.LOAD);
      rings.forEach(ring -> coils.add(new CoilCircuit(ring.henry(), ohms, ring.farad(), loadOhms)));
    }
    String missing = henry.isEmpty() ? "inductance" : farad.isEmpty() ? "capacitance" : "";
    String lacking = henry.isEmpty() ? lacking(sign, words) : "";
    return new CoilAnswer(rings, coils, unsaid, missing, turns, lacking);
  }

  /** What would have to be said for an inductance. */
  static String lacking(String sign, PickupWords words) {
    List<String> lacking = new ArrayList<>();
    for (Said field : List.of(Said.TURNS, Said.WINDING, Said.CORES)) {
      if (!words.says(field)) {
        lacking.add(sign + field.word());
      }
    }
    return "Measure the inductance and say "
        + sign
        + "inductance; or to have it reckoned say "
        + String.join(", ", lacking)
        + " as well.";
  }

  /** The answer in words. */
  public Told told() {
    List<Passage> passages = new ArrayList<>();
    passages.add(new Passage.Heading(title()));
    if (missing.isEmpty()) {
      passages.add(new Passage.Sentence(coils.isEmpty() ? ring() : peak(coils.get(0))));
    } else {
      passages.add(new Passage.Sentence("The " + missing + " is missing; for what it may be:"));
      passages.add(mayBe());
    }
    turns.ifPresent(
        wound ->
            passages.add(
                new Passage.Sentence(
                    said(
                        "Inductance reckoned from the turns: %.2f H with its cores, %.2f H in air;"
                            + " good to about a fifth, for low notes, with no steel beside the"
                            + " winding. A measured one is better.",
                        wound.henries(), wound.airHenries()))));
    if (!lacking.isEmpty()) {
      passages.add(new Passage.Sentence(lacking));
    }
    if (!unsaid.isEmpty()) {
      passages.add(new Passage.Sentence(inPart()));
    } else if (missing.isEmpty()) {
      passages.add(table(coils.get(0)));
    }
    passages.add(
        new Passage.Sentence(
            "Losses in metal parts are left out: a real peak is lower. The magnet's level does not"
                + " move it: its permeability for small fields is taken as the same at each."));
    if (!missing.equals("inductance")) {
      passages.add(Passage.Custom.of(LevelHeard.ofInductance(rings.get(0).henry())));
    }
    return new Told(passages, coils.isEmpty() ? List.of() : List.of(plot()));
  }

  private String ring() {
    return said("Without any loss it rings at %.0f Hz.", rings.get(0).hertz());
  }

  private String inPart() {
    return "Answered in part: how high the peak is, where it lies under load, and the curve need"
        + unsaid.stream()
            .map(
                field ->
                    field == Said.LOAD
                        ? " the load (potentiometers and amplifier together)"
                        : " the resistance (the coil's own, as a meter reads it)")
            .collect(Collectors.joining(" and"))
        + " as well.";
  }

  private static String peak(CoilCircuit coil) {
    double peak = coil.peakHertz();
    return peak > 0
        ? said(
            "Peak of %+.1f dB at %.0f Hz; without any loss it would ring at %.0f Hz.",
            coil.decibels(peak), peak, coil.resonanceHertz())
        : "No peak: this load damps it from the lowest notes on.";
  }

  private Passage mayBe() {
    List<List<String>> rows = new ArrayList<>();
    for (int at = 0; at < rings.size(); at++) {
      Ring ring = rings.get(at);
      String value =
          missing.equals("capacitance")
              ? said("%.0f pF", ring.farad() * 1e12)
              : said("%.2f H", ring.henry());
      if (coils.isEmpty()) {
        rows.add(List.of(value, said("%.0f Hz", ring.hertz())));
        continue;
      }
      CoilCircuit coil = coils.get(at);
      double peak = coil.peakHertz();
      rows.add(
          List.of(
              value,
              peak > 0 ? said("%.0f Hz", peak) : "none",
              peak > 0 ? said("%+.1f dB", coil.decibels(peak)) : ""));
    }
    return new Passage.Rows(
        "For what the " + missing + " may be",
        false,
        coils.isEmpty()
            ? List.of(missing, "rings at, without loss")
            : List.of(missing, "peak at", "of"),
        0,
        rows);
  }

  private static Passage table(CoilCircuit coil) {
    List<List<String>> rows = new ArrayList<>();
    for (int hertz : NOTES) {
      rows.add(List.of(said("%d Hz", hertz), said("%+.1f dB", coil.decibels(hertz))));
    }
    return new Passage.Rows(
        "Its curve at a few notes", false, List.of("note", "beside low notes"), 0, rows);
  }

  private String title() {
    String henry = missing.equals("inductance") ? "" : said(" of %.2f H", rings.get(0).henry());
    if (coils.isEmpty()) {
      return "Coil" + henry + " with its cable";
    }
    String ohms = said("%.0f ohm with its cable and load", coils.get(0).ohms());
    return "Coil" + (henry.isEmpty() ? " of " : henry + " and ") + ohms;
  }

  /**
   * The curve as it is drawn into a file or onto a terminal, its axis told in hertz.
   *
   * @throws IllegalStateException where resistance or load is missing
   */
  public Plot drawn() {
    Plot decades = plot();
    return new Plot(
        decades.title(),
        "Hz, logarithmic",
        decades.up(),
        decades.curves().stream()
            .map(
                curve ->
                    new Plot.Curve(
                        curve.name(),
                        curve.x().stream().map(each -> each + Math.log10(FROM_HERTZ)).toList(),
                        curve.y()))
            .toList(),
        true);
  }

  /** The curve, or one for each value that what is missing may have. */
  public Plot plot() {
    List<Double> hertz =
        DoubleStream.iterate(0, step -> step + 1)
            .limit(STEPS + 1L)
            .map(step -> FROM_HERTZ * Math.pow(10, DECADES * step / STEPS))
            .boxed()
            .toList();
    List<Double> decades = hertz.stream().map(each -> Math.log10(each / FROM_HERTZ)).toList();
    return new Plot(
        title(),
        "decades above 100 Hz",
        "beside low notes, dB",
        coils.stream()
            .map(
                coil ->
                    new Plot.Curve(
                        coils.size() == 1
                            ? "coil"
                            : said("%.2f H, %.0f pF", coil.henry(), coil.farad() * 1e12),
                        decades,
                        hertz.stream().map(coil::decibels).toList()))
            .toList());
  }
}
