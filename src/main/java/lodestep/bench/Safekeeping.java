package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.config.JigConfig;
import lodestep.config.RigConfig;
import lodestep.dial.RigMemory;
import lodestep.dial.RigNow;
import lodestep.dial.Task;
import lodestep.ledger.MagnetHistory;
import lodestep.magnet.FluxSource;
import lodestep.magnet.HardMagnet;
import lodestep.magnet.HardMaterial;
import lodestep.magnet.KeepApart;
import lodestep.magnet.Shape;
import lodestep.magnet.SlowRelaxation;
import lodestep.port.KeepingEvent.MagnetNoted;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.TimeSpan;

/**
 * What an accepted magnet keeps of its level and where to put it, from its own record. Any thread,
 * immutable.
 *
 * @param survives opposing field that leaves it as it is, by its largest knock-down less what is
 *     not known of the source's field; zero if it never had one
 * @param inOneYear what time alone is expected to take, without sign
 * @param inTenYears the same
 * @param apart how near what may spoil it can come
 */
public record Safekeeping(
    FieldStrength survives, FluxDensity inOneYear, FluxDensity inTenYears, List<Apart> apart) {

  private static final TimeSpan SETTLED = new TimeSpan(10);
  private static final double YEAR_SECONDS = 365.25 * 86_400;
  private static final double COVERAGE = 2;

  /** A jaw as winders build them. Common practice, no source. */
  private static final Shape JAW =
      new Shape.Bar(
          Length.ofMm(25), Length.ofMm(25), Length.ofMm(12), Shape.Axis.THROUGH_THICKNESS);

  private static final String JAW_MATERIAL = "neodymium N42";

  public Safekeeping {
    apart = List.copyOf(apart);
  }

  /**
   * Something that opposes it when its like pole comes first.
   *
   * @param what with its article
   * @param gap least between the two faces; empty if it is farther than anything on a bench
   */
  public record Apart(String what, Optional<Length> gap) {}

  /**
   * Of a magnet whose standing verdict is that it was accepted; empty of any other, and of one that
   * was demagnetised.
   *
   * @throws IllegalArgumentException with one sentence, if this is not the rig it was dialed on
   */
  public static Optional<Safekeeping> of(MagnetHistory history, RigConfig rig) {
    Optional<VerdictGiven> accepted =
        history.standingVerdict().filter(verdict -> verdict.verdict().equals("accepted"));
    if (accepted.isEmpty()
        || history.identity().batch() == 0
        || history.identity().task().equals(Task.DEMAGNETISE_WORD)) {
      return Optional.empty();
    }
    PlanRow row = Rereads.row(history.identity(), rig);
    FieldStrength peak = Rereads.remembered(history);
    FieldStrength survives = survived(row, rig, peak);
    FluxDensity level =
        new FluxDensity(
            Math.abs(FluxDensity.ofMicroTesla(accepted.get().fieldMicroTesla()).tesla()));
    return Optional.of(
        new Safekeeping(
            survives,
            takes(row, level, peak, 1),
            takes(row, level, peak, 10),
            apart(row, rig, survives)));
  }

  private static FieldStrength survived(PlanRow row, RigConfig rig, FieldStrength peak) {
    if (peak.amperesPerMetre() == 0) {
      return peak;
    }
    RigNow now = new RigNow(Temperature.ofDegC(20), RigMemory.none());
    double scale = Prepared.of(row, rig).knockDown().doubt(peak, now).scale();
    return new FieldStrength(peak.amperesPerMetre() / (1 + COVERAGE * scale));
  }

  private static FluxDensity takes(
      PlanRow row, FluxDensity level, FieldStrength peak, double years) {
    return SlowRelaxation.takes(
        Prepared.nominalCurve(row),
        row.fullCharge(),
        level,
        peak,
        SETTLED,
        new TimeSpan(years * YEAR_SECONDS));
  }

  private static List<Apart> apart(PlanRow row, RigConfig rig, FieldStrength survives) {
    KeepApart keep = new KeepApart(row.shape(), survives);
    List<Apart> apart = new ArrayList<>();
    FluxSource like = row.shape().perTesla().times(row.magnet().model().chargedPolarisationTesla());
    apart.add(
        new Apart("another of its kind, fully charged", keep.from(like, row.shape().height())));
    HardMaterial.find(JAW_MATERIAL)
        .map(material -> new HardMagnet(material, JAW))
        .ifPresent(
            jaw ->
                apart.add(
                    new Apart(
                        "a jaw as for charging (" + JAW_MATERIAL + ", 25 x 25 x 12 mm)",
                        keep.from(jaw.source(), JAW.height()))));
    rig.jig()
        .map(JigConfig::magnet)
        .ifPresent(
            magnet -> {
              Shape.Rod rod = new Shape.Rod(magnet.diameter(), magnet.length());
              FluxSource source = rod.perTesla().times(magnet.remanence().tesla());
              apart.add(new Apart("this rig's opposing magnet", keep.from(source, rod.length())));
            });
    return apart;
  }

  /** In sentences, each a paragraph. */
  public List<String> sentences(Optional<MagnetNoted> noted) {
    List<String> sentences = new ArrayList<>();
    noted.ifPresent(
        note ->
            sentences.add(
                "To be read again: a "
                    + note.what()
                    + " was noted since it was read last, and what it keeps is not known."));
    boolean knocked = survives.amperesPerMetre() > 0;
    sentences.add(
        (knocked
                ? "An opposing field up to "
                    + survives.written()
                    + " leaves it as it is; a stronger one takes it down."
                : "It was never knocked down: any opposing field takes something of it.")
            + String.format(
                Locale.ROOT,
                " Time alone is expected to take %s in a year and %s in ten.",
                inOneYear.inGauss(),
                inTenYears.inGauss()));
    if (knocked) {
      List<String> nearest = new ArrayList<>();
      apart.forEach(one -> nearest.add(one.what() + gap(one.gap())));
      sentences.add(
          "Where to put it: with its like pole first, "
              + String.join("; ", nearest)
              + ". Side by side they do less. Lay it on no steel and slide it along none: there no"
              + " figure holds.");
    }
    sentences.add(
        "Reckoned for a usual magnet of its kind by itself in air at 20 °C, on one axis, by the"
            + " middle of its face; lots lie some per cent apart. Shock and heat are not in it:"
            + " note them and read it again.");
    return sentences;
  }

  private static String gap(Optional<Length> gap) {
    return gap.map(
            length ->
                length.metres() == 0
                    ? " may touch it"
                    : String.format(
                        Locale.ROOT, " comes no nearer than %.0f mm", Math.ceil(length.mm())))
        .orElse(" stays more than half a metre away");
  }
}
