package lodestep.bench;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.dial.Accepted;
import lodestep.dial.Keep;
import lodestep.dial.PoleUp;
import lodestep.dial.Purpose;
import lodestep.dial.RecordedShape;
import lodestep.dial.Task;
import lodestep.ledger.EventCodec;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetHistory.Happening;
import lodestep.ledger.MagnetHistory.What;
import lodestep.magnet.Alloy;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Figure;
import lodestep.magnet.Shape;
import lodestep.magnet.SlowRelaxation;
import lodestep.magnet.UnknownAlloy;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.Seating;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.CalibrationSet;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import lodestep.quantity.TimeSpan;

/** Accepted magnets that are to be read again, from what is on record of them. Pure. */
public final class Rereads {

  private static final double NANO = 1e-9;

  /** Two clocks are seldom set alike by less. */
  private static final double SINCE_LEAST_SECONDS = 60;

  /** A level is known when its reading has settled. */
  private static final double SETTLED_SECONDS = 10;

  /** What alnico's coefficients come to at most, for an alloy of which none is known. */
  private static final double PER_KELVIN_MOST = 3e-4;

  private Rereads() {}

  /**
   * An accepted magnet, and what a new reading of it is compared with.
   *
   * @param row of a plan that would ask for such a magnet
   */
  public record Again(MagnetHistory history, PlanRow row, Accepted accepted) {

    /**
     * The entry of a batch that reads it.
     *
     * @throws IllegalArgumentException with one sentence, if this rig has no source for it
     */
    public Entry entry(RigConfig rig) {
      return new Entry(
          Prepared.of(row, rig).again(accepted),
          Math.toIntExact(history.identity().ordinal()),
          history.magnet(),
          history.attempts(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty());
    }
  }

  /**
   * This magnet, to be read again.
   *
   * @param archive that holds its history
   * @param gauge calibration in use
   * @param seatings how magnets lie in the rig's nests
   * @param now when it will be read, by the wall clock
   * @throws IllegalArgumentException with one sentence, if it was not accepted or this rig cannot
   *     read it as it was read then
   */
  public static Again again(
      LedgerArchive archive,
      MagnetHistory history,
      RigConfig rig,
      GaugeCalibration gauge,
      NestSeatings seatings,
      Instant now) {
    MagnetNamed identity = history.identity();
    String name = identity.name();
    Optional<VerdictGiven> standing = history.standingVerdict();
    if (standing.filter(verdict -> verdict.verdict().equals("accepted")).isEmpty()) {
      throw new IllegalArgumentException(
          name
              + ", number "
              + history.magnet()
              + ", "
              + standing
                  .map(verdict -> "was not accepted: " + verdict.verdict())
                  .orElse("has no verdict yet")
              + "; there is no accepted reading to compare a new one with");
    }
    Happening verdict = last(history, What.Verdict.class, Long.MAX_VALUE);
    Happening reading = last(history, What.Reading.class, verdict.number());
    ReadingTaken read = ((What.Reading) reading.what()).event();
    PlanRow row = row(identity, rig);
    requireSameNest(name, row.nest(), read);
    double since = Duration.between(reading.wall(), now).toMillis() * 1e-3;
    TimeSpan span = new TimeSpan(Math.max(SINCE_LEAST_SECONDS, since));
    Baseline baseline =
        new Baseline(verdict.number(), ((What.Verdict) verdict.what()).event(), read, span);
    Accepted accepted =
        baseline.accepted(
            timeTakes(history, row, read, span),
            row.alloy(),
            sharedGain(archive, read, gauge),
            seatings.in(row.nest()));
    return new Again(history, row, accepted);
  }

  /** The verdict compared with, and the reading it was given by. */
  private record Baseline(long number, VerdictGiven verdict, ReadingTaken read, TimeSpan since) {

    Accepted accepted(
        FluxDensity takes, Alloy alloy, Optional<Double> sharedGain, Seating seating) {
      FluxDensity value = FluxDensity.ofMicroTesla(read.fieldMicroTesla());
      double counted = read.uncertaintyNanoTesla() * NANO;
      double gain = sharedGain.orElse(0.0) * value.tesla();
      double noise = Math.sqrt(Math.max(0, counted * counted - gain * gain));
      Optional<Double> perKelvin = alloy.known(Figure.REMANENCE_PER_KELVIN).map(Alloy.Known::value);
      // Only a full charge is accepted without a tolerance.
      boolean full = verdict.toleranceMicroTesla() == 0;
      return new Accepted(
          number,
          value,
          new FluxDensity(noise),
          sharedGain.isPresent(),
          Temperature.ofDegC(read.gaugeCentiDegC() * 1e-2),
          full ? value : FluxDensity.ofMicroTesla(verdict.targetMicroTesla()),
          full
              ? new FluxDensity(Task.FullCharge.MOVED_FRACTION * value.magnitude().tesla())
              : FluxDensity.ofMicroTesla(verdict.toleranceMicroTesla()),
          since,
          takes,
          perKelvin.orElse(0.0),
          // A short magnet's coefficient may be another one: it is half known at best.
          perKelvin.map(known -> 0.5 * Math.abs(known)).orElse(PER_KELVIN_MOST),
          seating.counted());
    }
  }

  /** The gain's relative uncertainty, if the gauge was calibrated alike when this was read. */
  private static Optional<Double> sharedGain(
      LedgerArchive archive, ReadingTaken read, GaugeCalibration gauge) {
    List<CalibrationSet> then = new ArrayList<>();
    archive.forEach(
        read.calibration(),
        read.calibration(),
        stored -> {
          if (EventCodec.decode(stored).event() instanceof CalibrationSet set) {
            then.add(set);
          }
        });
    return then.stream()
        .filter(
            set ->
                set.countsPerTesla() == Math.round(gauge.countsPerTesla())
                    && set.gainPpmPerKelvin() == Math.round(gauge.gainPerKelvin() * 1e6))
        .map(set -> set.gainStandardUncertaintyPpm() * 1e-6)
        .findFirst();
  }

  private static Happening last(MagnetHistory history, Class<? extends What> kind, long before) {
    return history.happenings().stream()
        .filter(happening -> happening.number() < before && kind.isInstance(happening.what()))
        .reduce((one, later) -> later)
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    history.identity().name() + " has no reading on record before its verdict"));
  }

  private static void requireSameNest(String name, NestConfig nest, ReadingTaken read) {
    boolean same =
        nest.name().equals(read.nest())
            && nest.standOff().microMetres() == read.standOffMicroMetres();
    if (!same) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%s was read in the %s, %.2f mm from its face, and the %s of this rig reads at %s;"
                  + " two readings compare only where they are taken alike",
              name,
              read.nest(),
              read.standOffMicroMetres() * 1e-3,
              nest.name(),
              nest.standOff().written()));
    }
  }

  private static FluxDensity timeTakes(
      MagnetHistory history, PlanRow row, ReadingTaken read, TimeSpan since) {
    double level = FluxDensity.ofMicroTesla(read.fieldMicroTesla()).magnitude().tesla();
    FieldStrength remembered = knockedByHand(history) ? nominal(row, level) : remembered(history);
    return SlowRelaxation.takes(
        Prepared.nominalCurve(row),
        row.fullCharge(),
        new FluxDensity(level),
        remembered,
        new TimeSpan(SETTLED_SECONDS),
        new TimeSpan(Math.min(TimeSpan.LIMIT_SECONDS, SETTLED_SECONDS + since.seconds())));
  }

  /** Whether a person has brought it down, by a field that nobody knows. */
  public static boolean knockedByHand(MagnetHistory history) {
    return history.happenings().stream()
        .anyMatch(
            happening ->
                happening.what() instanceof What.ByHand hand
                    && !hand.event().act().equals(Purpose.CHARGE.word()));
  }

  /** The field that brings such a magnet down to this level. */
  private static FieldStrength nominal(PlanRow row, double levelTesla) {
    double part = Math.min(1, levelTesla / row.fullCharge().magnitude().tesla());
    return new FieldStrength(Prepared.nominalCurve(row).fieldFor(part));
  }

  /** The largest knock-down after the newest charge, as asked; nothing if there was none. */
  public static FieldStrength remembered(MagnetHistory history) {
    double largest = 0;
    for (What.Acted act : history.acts()) {
      boolean charge = act.intent().purpose().equals("charge");
      double field = act.intent().fieldAmperesPerMetre();
      largest = charge ? 0 : Math.max(largest, field);
    }
    return new FieldStrength(largest);
  }

  /** The row of a plan that would ask for such a magnet. */
  static PlanRow row(MagnetNamed identity, RigConfig rig) {
    Alloy alloy =
        UnknownAlloy.isWritten(identity.alloy())
            ? UnknownAlloy.alloy()
            : MagnetAsked.alloy(Lots.of(rig), identity.alloy());
    Shape shape = RecordedShape.of(identity);
    NestConfig nest =
        rig.nests().stream()
            .filter(each -> each.name().equals(identity.nest()))
            .findFirst()
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        identity.name()
                            + " was read in the "
                            + identity.nest()
                            + ", which this rig does not have; name its rig with --rig"));
    PoleUp pole = identity.poleUp().equals("north") ? PoleUp.NORTH : PoleUp.SOUTH;
    return new PlanRow(
        Math.toIntExact(identity.row()),
        identity.name(),
        Optional.of(identity.set()).filter(set -> !set.isEmpty()),
        FaceModel.of(alloy, shape).seenBy(Lots.element(rig)),
        nest,
        pole,
        task(identity),
        1,
        Optional.of(identity.lot()).filter(lot -> !lot.isEmpty()),
        Keep.NOTHING,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty());
  }

  /** How it was charged is all that matters of its task: the comparison is with its verdict. */
  private static Task task(MagnetNamed identity) {
    return identity.task().equals(Task.FULL_CHARGE_WORD)
        ? new Task.FullCharge()
        : ofLevel(identity);
  }

  private static Task ofLevel(MagnetNamed identity) {
    return identity.task().equals("level")
        ? new Task.ToLevel(
            FluxDensity.ofMicroTesla(identity.targetMicroTesla()),
            FluxDensity.ofMicroTesla(identity.toleranceMicroTesla()))
        : new Task.Demagnetise(Task.Demagnetise.UNCHARGED);
  }
}
