package lodestep.paper;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.config.RigKind;
import lodestep.paper.ReturnCheck.Change;
import lodestep.port.ChainEnd;
import lodestep.port.Sheet;
import lodestep.port.StockEvent.PoleTopRead;
import lodestep.port.StockEvent.ReturnJudged;

/**
 * What a return check came to, for the winder and for the customer. Any thread, immutable.
 *
 * @param taken what would have taken that much; empty if nothing is lost, or it cannot be said
 */
public record ReturnReport(
    ReturnCase of, ReturnCheck check, ReturnCheck.Result result, Optional<String> taken) {

  private static final int PARTS_PER_MILLION = 1_000_000;

  /** What goes on record. */
  public ReturnJudged entry() {
    long before = of.before() instanceof ReturnCase.Before.Tops tops ? tops.round().round() : 0;
    return new ReturnJudged(
        of.pickup().number(),
        before,
        of.now().round(),
        result.verdict().word(),
        Math.round(result.probability() * PARTS_PER_MILLION),
        verdict());
  }

  /** The verdict with its odds, in one sentence. */
  public String verdict() {
    Change decided = result.decided();
    String which = decided.pole() == 0 ? "On the mean of its poles" : "At pole " + decided.pole();
    String change =
        Told.signedPercent(decided.change())
            + " ± "
            + Told.percent(Told.COVERAGE * decided.u())
            + " (k = 2)";
    String odds = odds(result.probability());
    return switch (result.verdict()) {
      case UNCHANGED -> "Unchanged, " + odds + ". " + which + " it reads " + change + " of then.";
      case LOST -> "Lost more than ageing explains, " + odds + ". " + which + ": " + change + ".";
      case GAINED -> "Gained, " + odds + ". " + which + ": " + change + ".";
      case CANNOT_TELL ->
          "Cannot tell: "
              + which.toLowerCase(Locale.ROOT)
              + " it reads "
              + change
              + ", and the likeliest answer has odds of "
              + plain(result.probability())
              + " only.";
    };
  }

  private static String odds(double probability) {
    return "odds " + plain(probability);
  }

  private static String plain(double probability) {
    double odds = probability / Math.max(1e-12, 1 - probability);
    if (odds > 9_999) {
      return "better than 9999 to 1";
    }
    return odds >= 10 ? Told.format("%.0f to 1", odds) : Told.format("%.1f to 1", odds);
  }

  /** Two sentences that the customer can read. */
  public String forCustomer() {
    String name = of.pickup().built().name();
    String day = Told.day(of.beforeWall());
    double mean = 100 * Math.abs(result.mean().change());
    double own = 100 * Math.abs(result.decided().change());
    return switch (result.verdict()) {
      case UNCHANGED ->
          "The magnets of "
              + name
              + " are as strong today as they were on "
              + day
              + ". Whatever has changed in the sound comes from something else: strings, their"
              + " height, wiring or the amplifier are looked at first.";
      case LOST ->
          Told.format(
              "The magnets of %s have lost about %.0f per cent of their strength since %s, far more"
                  + " than time alone takes. They can be charged again and brought back to their"
                  + " level.",
              name, Math.max(1, own), day);
      case GAINED ->
          Told.format(
              "The magnets of %s read about %.0f per cent stronger today than on %s. Somebody or"
                  + " something has charged them since; they can be brought back to their level.",
              name, Math.max(1, own), day);
      case CANNOT_TELL ->
          Told.format(
              "The magnets of %s read within about %.0f per cent of what is on record of %s, and"
                  + " that record is not good enough to say more. We have read them carefully"
                  + " today, so that the next comparison will be surer.",
              name, Math.max(1, Math.ceil(mean + 100 * Told.COVERAGE * result.mean().u())), day);
    };
  }

  /**
   * The sheet.
   *
   * @param judged where the verdict stands in the record
   */
  public Sheet sheet(ChainEnd judged, Certificate.Subject subject) {
    boolean virtual = subject.rigKind() == RigKind.VIRTUAL;
    List<Sheet.Part> parts = new ArrayList<>();
    parts.add(
        new Sheet.Facts(
            List.of(
                new Sheet.Fact("read then", Told.day(of.beforeWall()) + " (UTC)"),
                new Sheet.Fact("read now", Told.day(of.now().wall()) + " (UTC)"),
                new Sheet.Fact("record", "entry " + judged.number() + " of the rig's record"),
                new Sheet.Fact("its hash", Told.inHalves(judged.hash())))));
    parts.add(new Sheet.Heading("In short"));
    parts.add(new Sheet.Words(forCustomer()));
    parts.add(new Sheet.Heading("Verdict"));
    parts.add(new Sheet.Words(verdict()));
    taken.ifPresent(words -> parts.add(new Sheet.Words(words)));
    parts.add(new Sheet.Heading("Readings"));
    parts.add(grid());
    parts.add(new Sheet.Words(how()));
    return new Sheet(
        "Return check of " + of.pickup().built().name(),
        virtual ? Optional.of("VIRTUAL") : Optional.empty(),
        parts,
        Optional.of(
            "lodestep return check "
                + judged.number()
                + " of "
                + subject.name()
                + " sha256 "
                + judged.hash()),
        (virtual ? "VIRTUAL: made on a virtual rig, of no real magnet. " : "")
            + "Lodestep "
            + subject.version()
            + ", rig "
            + subject.rig());
  }

  private Sheet.Grid grid() {
    List<List<String>> rows = new ArrayList<>();
    for (int at = 0; at < check.poles().size(); at++) {
      ReturnCheck.Pole pole = check.poles().get(at);
      Change change = result.poles().get(at);
      rows.add(
          List.of(
              String.valueOf(pole.pole()),
              Told.level(pole.then().tesla()),
              Told.level(pole.now().tesla()),
              Told.signedPercent(change.change()),
              "± " + Told.percent(Told.COVERAGE * change.u()),
              Told.percent(change.odds().unchanged()),
              Told.percent(change.odds().lost()),
              Told.percent(change.odds().gained())));
    }
    Change mean = result.mean();
    rows.add(
        List.of(
            "all",
            "",
            "",
            Told.signedPercent(mean.change()),
            "± " + Told.percent(Told.COVERAGE * mean.u()),
            Told.percent(mean.odds().unchanged()),
            Told.percent(mean.odds().lost()),
            Told.percent(mean.odds().gained())));
    return new Sheet.Grid(
        List.of("pole", "then", "now", "change", "U", "unchanged", "lost", "gained"),
        List.of(true, true, true, true, true, true, true, true),
        rows);
  }

  /** What was counted, in words. */
  public String how() {
    ReturnCheck.Doubts doubts = check.doubts();
    PoleTopRead first = of.now().poles().get(0);
    String against =
        of.before() instanceof ReturnCase.Before.Tops
            ? "Held against its own pole tops."
            : "Only loose readings of its magnets are on record: what each pole top would have read"
                + " was reckoned from them, which widens the doubt.";
    return against
        + " Read in the "
        + first.seat()
        + ". Compared at equal temperature ("
        + Told.format("%.3f", 100 * doubts.perKelvin())
        + " per cent a kelvin), both readings' uncertainties counted, placement "
        + Told.format("%.1f", 100 * doubts.placement())
        + " per cent each time, "
        + Told.format("%.2f", 100 * doubts.common())
        + " per cent common to all poles; time alone is expected to take "
        + Told.format("%.2f", 100 * check.ageing())
        + " per cent, and a change counts from "
        + Told.format("%.1f", 100 * check.counts())
        + " per cent on. U has k = 2. The last three columns are how probable each answer is.";
  }
}
