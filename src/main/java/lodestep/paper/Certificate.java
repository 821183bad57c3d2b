package lodestep.paper;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lodestep.bench.NestSeatings;
import lodestep.config.RigKind;
import lodestep.ledger.Chain;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.Pickup;
import lodestep.measure.HandGaugeRelation;
import lodestep.measure.Seating;
import lodestep.measure.StandardUncertainty;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerEvent.CalibrationSet;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.Sheet;
import lodestep.port.StockEvent.CertificateIssued;
import lodestep.port.StockEvent.PoleTopRead;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * What a certificate says: every level with pole and uncertainty, where and with what it was read,
 * and where in the record it stands. Any thread, immutable.
 *
 * @param subject what is certified
 * @param magnets loose readings, in the order of their positions
 * @param pickup whose pole tops it tells of as well
 * @param gauge how the gauge was known
 * @param by the hand gauge that tells the magnets' levels; empty for the rig's own
 */
public record Certificate(
    Subject subject,
    List<Level> magnets,
    Optional<Pickup> pickup,
    Gauge gauge,
    Optional<ByHandGauge> by) {

  public Certificate {
    magnets = List.copyOf(magnets);
  }

  /**
   * What is certified.
   *
   * @param kind "pickup", "set" or "magnet"
   * @param rig that dialed it
   * @param version of the program
   */
  public record Subject(String kind, String name, String rig, RigKind rigKind, String version) {}

  /**
   * A magnet's level.
   *
   * @param history all that is on record of it
   * @param verdict that accepted it
   * @param verdictNumber its entry
   * @param wall when, by the wall clock
   * @param seating how it lay in its nest, as that was known then
   */
  public record Level(
      MagnetHistory history,
      VerdictGiven verdict,
      long verdictNumber,
      Instant wall,
      Seating seating) {

    /** The level, with what was known then of the nest it was read in. */
    static Level of(
        MagnetHistory history,
        VerdictGiven verdict,
        long verdictNumber,
        Instant wall,
        NestSeatings seatings) {
      NestSeatings known = seatings.before(verdictNumber);
      return new Level(
          history,
          verdict,
          verdictNumber,
          wall,
          newest(history)
              .map(read -> known.in(read.nest(), read.standOffMicroMetres()))
              .orElseGet(Seating::usual));
    }

    /** Standard uncertainty with its placement counted, in tesla. */
    double standardUncertainty() {
      return seating
          .ofLevel(new FluxDensity(tesla()), new FluxDensity(verdict.uncertaintyNanoTesla() * 1e-9))
          .tesla();
    }

    double tesla() {
      return verdict.fieldMicroTesla() * 1e-6;
    }

    /** From the face to the gauge's element as it was read; 0 if it never was. */
    public long standOffMicroMetres() {
      return read().map(ReadingTaken::standOffMicroMetres).orElse(0L);
    }

    private Optional<ReadingTaken> read() {
      return newest(history);
    }

    private static Optional<ReadingTaken> newest(MagnetHistory history) {
      return history.readings().stream().reduce((earlier, later) -> later);
    }
  }

  /**
   * How the gauge was known.
   *
   * @param calibration in use
   * @param checks a sentence for each nest: by which reference it was checked, or that it was not
   */
  public record Gauge(CalibrationSet calibration, List<String> checks) {
    public Gauge {
      checks = List.copyOf(checks);
    }
  }

  /**
   * That it is no first print.
   *
   * @param alike whether it says the same, word for word
   */
  public record Again(boolean alike) {

    /** For whoever reads it. */
    public String words() {
      return alike
          ? "word for word as it was made out"
          : "from the same entries, by another version in other words";
    }
  }

  /** The event that is put on record when it is made out. */
  public CertificateIssued entry() {
    return new CertificateIssued(
        subject.name(),
        magnets.stream().map(level -> level.history().magnet()).toList(),
        pickup.map(Pickup::number).orElse(0L),
        Chain.sha256(Bytes.ofUtf8(parts().toString())).toString());
  }

  /**
   * The sheet.
   *
   * @param issued where its own event stands
   * @param wall when it was made out
   * @param again how it was printed once more, if it was
   */
  public Sheet sheet(ChainEnd issued, Instant wall, Optional<Again> again) {
    boolean virtual = subject.rigKind() == RigKind.VIRTUAL;
    List<Sheet.Part> parts = new ArrayList<>();
    List<Sheet.Fact> facts = new ArrayList<>();
    facts.add(new Sheet.Fact("made out", Told.day(wall) + " (UTC)"));
    facts.add(new Sheet.Fact("certificate", "entry " + issued.number() + " of the rig's record"));
    facts.add(new Sheet.Fact("its hash", Told.inHalves(issued.hash())));
    again.ifPresent(one -> facts.add(new Sheet.Fact("printed again", one.words())));
    parts.add(new Sheet.Facts(facts));
    parts.addAll(parts());
    parts.add(
        new Sheet.Words(
            "The record is whole up to this certificate if its entry "
                + issued.number()
                + " has this hash: lodestep prove --noted "
                + issued.number()
                + ":HASH. Keep the magnets from strong magnets, from heat and from falls; keep them"
                + " from pacemakers and other implants, cards, watches and drives."));
    return new Sheet(
        title(),
        virtual ? Optional.of("VIRTUAL") : Optional.empty(),
        parts,
        Optional.of(code(issued)),
        (virtual ? "VIRTUAL: made on a virtual rig, of no real magnet. " : "")
            + "Lodestep "
            + subject.version()
            + ", rig "
            + subject.rig());
  }

  private String title() {
    return "Certificate of " + subject.kind() + " " + subject.name();
  }

  /** What the square code holds: enough to find the entry and to compare the hash. */
  public String code(ChainEnd issued) {
    return "lodestep certificate "
        + issued.number()
        + " of "
        + subject.name()
        + " sha256 "
        + issued.hash();
  }

  private List<Sheet.Part> parts() {
    List<Sheet.Part> parts = new ArrayList<>();
    pickup.ifPresent(built -> parts.addAll(ofPickup(built)));
    if (!magnets.isEmpty()) {
      String told = by.map(ByHandGauge::gauge).orElse("the rig's own gauge");
      parts.add(new Sheet.Heading("Magnets, each by itself, as told by " + told));
      parts.add(levels());
      by.ifPresent(hand -> parts.add(new Sheet.Words(hand.words())));
      parts.add(new Sheet.Words(where()));
      atPoints().forEach(words -> parts.add(new Sheet.Words(words)));
      KnockDownPlot.of(magnets).ifPresent(curves -> parts.add(new Sheet.Curves(curves)));
    }
    parts.add(new Sheet.Heading("Gauge"));
    List<Sheet.Fact> facts = new ArrayList<>();
    facts.add(
        new Sheet.Fact(
            "calibration",
            gauge.calibration().source()
                + Told.format(
                    ", gain known to %.2f %% (k = 2)",
                    Told.COVERAGE * gauge.calibration().gainStandardUncertaintyPpm() * 1e-4)));
    gauge.checks().forEach(check -> facts.add(new Sheet.Fact("reference", check)));
    parts.add(new Sheet.Facts(facts));
    return parts;
  }

  private Sheet.Grid levels() {
    List<List<String>> rows = new ArrayList<>();
    for (int at = 0; at < magnets.size(); at++) {
      Level level = magnets.get(at);
      MagnetNamed named = level.history().identity();
      HandGaugeRelation.Level reads = reads(at, level);
      rows.add(
          List.of(
              named.name(),
              named.alloy() + " " + named.shape() + " " + AskedWords.size(named),
              asked(at, level),
              Told.gauss(Math.abs(reads.value().tesla()), 1),
              "± " + Told.gauss(Told.COVERAGE * reads.uncertainty().value(), 1),
              Told.pole(level.tesla()),
              Told.day(level.wall()),
              String.valueOf(level.verdictNumber())));
    }
    return new Sheet.Grid(
        List.of("magnet", "what", "asked/G", "reads/G", "U/G", "face", "accepted", "entry"),
        List.of(false, false, true, true, true, false, false, true),
        rows);
  }

  /** By the gauge that tells the levels. */
  private HandGaugeRelation.Level reads(int at, Level level) {
    return by.map(hand -> hand.reads(at, level))
        .orElseGet(
            () ->
                new HandGaugeRelation.Level(
                    new FluxDensity(level.tesla()),
                    new StandardUncertainty(
                        level.standardUncertainty(), Double.POSITIVE_INFINITY)));
  }

  private String asked(int at, Level level) {
    VerdictGiven verdict = level.verdict();
    if (verdict.targetMicroTesla() == 0) {
      return verdict.toleranceMicroTesla() == 0 ? "full charge" : "uncharged";
    }
    return by.map(hand -> hand.asked(at, level))
        .orElseGet(
            () -> ByHandGauge.band(verdict.targetMicroTesla(), verdict.toleranceMicroTesla()));
  }

  private String where() {
    List<String> places =
        magnets.stream()
            .flatMap(level -> level.read().stream())
            .map(
                read ->
                    "in the "
                        + read.nest()
                        + ", "
                        + Length.ofMicroMetres(read.standOffMicroMetres()).written()
                        + " below the middle of the face that looks at the strings")
            .distinct()
            .toList();
    return "Read "
        + String.join("; ", places)
        + ". U is the expanded uncertainty with k = 2 (about 95 per cent), placement counted with "
        + placements()
        + ". Each was accepted by its own reading with its uncertainty kept inside the"
        + " tolerance."
        + ByHandGauge.otherwise(magnets, by);
  }

  /** How the placement was known, for each nest that was known otherwise. */
  private String placements() {
    return magnets.stream()
        .map(Level::seating)
        .map(
            seating ->
                Told.format("%.2f", 100 * seating.counted())
                    + " per cent ("
                    + seating.known()
                    + ")")
        .distinct()
        .collect(Collectors.joining(" or "));
  }

  /** What was read beside the middle, for each that was: its own plan says which figure counts. */
  private List<String> atPoints() {
    List<String> words = new ArrayList<>();
    for (Level level : magnets) {
      level
          .history()
          .points()
          .ifPresent(
              judged ->
                  words.add(
                      level.history().identity().name()
                          + ", read at several points from "
                          + Told.gauss(judged.leastMicroTesla() * 1e-6, 1)
                          + " G to "
                          + Told.gauss(judged.mostMicroTesla() * 1e-6, 1)
                          + " G: "
                          + judged.why()
                          + "."));
    }
    return words;
  }

  private static List<Sheet.Part> ofPickup(Pickup pickup) {
    List<Sheet.Part> parts = new ArrayList<>();
    List<Sheet.Fact> facts = new ArrayList<>();
    facts.add(new Sheet.Fact("poles", String.valueOf(pickup.built().poles())));
    if (!pickup.built().order().isEmpty()) {
      facts.add(new Sheet.Fact("order", pickup.built().order()));
    }
    if (!pickup.built().winding().isEmpty()) {
      facts.add(new Sheet.Fact("winding", pickup.built().winding()));
    }
    parts.add(new Sheet.Facts(facts));
    pickup
        .delivered()
        .ifPresent(
            round -> {
              parts.add(
                  new Sheet.Heading("Pole tops " + round.stage() + ", " + Told.day(round.wall())));
              parts.add(tops(round));
              parts.add(new Sheet.Words(seat(round)));
            });
    return parts;
  }

  static String seat(Pickup.Round round) {
    PoleTopRead first = round.poles().get(0);
    return "Read in the "
        + first.seat()
        + ", "
        + Length.ofMicroMetres(first.spacerMicroMetres()).written()
        + " from the pole tops, in the order of the strings, the lowest first. U is the expanded"
        + " uncertainty with k = 2, placement counted with "
        + Told.format("%.1f", 100 * ReturnCase.PLACEMENT)
        + " per cent.";
  }

  static Sheet.Grid tops(Pickup.Round round) {
    List<List<String>> rows = new ArrayList<>();
    for (PoleTopRead top : round.poles()) {
      double tesla = top.fieldMicroTesla() * 1e-6;
      double placed = ReturnCase.PLACEMENT * tesla;
      double u = Math.hypot(top.uncertaintyNanoTesla() * 1e-9, placed);
      rows.add(
          List.of(
              String.valueOf(top.pole()),
              Told.gauss(Math.abs(tesla), 1),
              "± " + Told.gauss(Told.COVERAGE * u, 1),
              Told.pole(tesla),
              Told.format("%.1f", top.gaugeCentiDegC() * 1e-2)));
    }
    return new Sheet.Grid(
        List.of("pole", "reads/G", "U/G", "face", "gauge/°C"),
        List.of(true, true, true, false, true),
        rows);
  }
}
