package lodestep.bench;

import java.util.List;
import java.util.Optional;
import lodestep.bench.Rereads.Again;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.dial.Accepted;
import lodestep.dial.PoleUp;
import lodestep.dial.Rereading;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.SettledReading;
import lodestep.port.KeepingEvent.MagnetReread;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;

/**
 * Accepted magnets that a person reads again at a head alone, one after another in one nest, each
 * compared with the reading it was accepted by. Any thread, immutable.
 *
 * @param magnets in the order of work, at least one
 * @param calibration of the gauge
 */
public record RereadSeries(List<Again> magnets, GaugeCalibration calibration) {

  /**
   * @throws IllegalArgumentException with one sentence, if they belong in more than one nest or
   *     were demagnetised
   */
  public RereadSeries {
    magnets = List.copyOf(magnets);
    List<String> nests =
        magnets.stream().map(again -> again.row().nest().name()).distinct().sorted().toList();
    if (nests.size() != 1) {
      throw new IllegalArgumentException(
          "these magnets belong in the "
              + String.join(" and the ", nests)
              + "; a head alone reads in one nest, so name those of one at a time");
    }
    for (Again again : magnets) {
      if (again.accepted().value().magnitude().compareTo(SeriesJob.LEAST) < 0) {
        throw new IllegalArgumentException(
            again.history().identity().name()
                + " was accepted at "
                + again.accepted().value().inGauss()
                + ", which by hand cannot be told from an empty nest");
      }
    }
  }

  /** The nest they are read in. */
  public NestConfig nest() {
    return magnets.get(0).row().nest();
  }

  /** The work of it. */
  public SeriesWork work(RigConfig rig) {
    List<Placing> placings =
        magnets.stream().<Placing>map(again -> new Placed(again, calibration)).toList();
    return new SeriesWork(
        nest(), calibration, rig.limits(), placings, 0, Optional.empty(), 0, SeriesClosing.NONE);
  }

  /** One magnet, and the gauge that reads it. */
  private record Placed(Again again, GaugeCalibration calibration) implements Placing {

    @Override
    public String asks() {
      return "put "
          + name()
          + " in the "
          + again.row().nest().name()
          + ", its face that looks at the strings, "
          + again.row().poleUp().word()
          + ", to the gauge";
    }

    @Override
    public String name() {
      return again.history().identity().name();
    }

    @Override
    public boolean anew() {
      return true;
    }

    @Override
    public Optional<String> objection(SettledReading reading, Optional<FluxDensity> first) {
      PoleUp seen = PoleUp.read(reading.value());
      PoleUp then = PoleUp.read(again.accepted().value());
      return seen == then
          ? Optional.empty()
          : Optional.of(
              "The gauge sees a "
                  + seen.word()
                  + " pole, and "
                  + name()
                  + " was accepted with a "
                  + then.word()
                  + " one: turn it over, or see that it is the right magnet.");
    }

    @Override
    public List<LedgerEvent> entries(Taken taken) {
      Accepted accepted = again.accepted();
      Rereading compared =
          new Rereading(
              accepted, compared(taken), Temperature.ofDegC(taken.gaugeCentiDegC() * 1e-2));
      return List.of(
          new ReadingTaken(
              again.history().magnet(),
              "read again",
              taken.fieldMicroTesla(),
              taken.uncertaintyNanoTesla(),
              taken.reading().samples(),
              taken.gaugeCentiDegC(),
              again.row().nest().name(),
              again.row().nest().standOff().microMetres(),
              taken.zero(),
              taken.calibration()),
          reread(compared, taken));
    }

    /** The gain that both readings share drops out of their difference. */
    private SettledReading compared(Taken taken) {
      SettledReading read = taken.reading();
      double gain =
          again.accepted().gainShared()
              ? calibration.relativeStandardUncertainty() * read.value().tesla()
              : 0;
      double counted = read.standardUncertainty().tesla();
      double rest = Math.sqrt(Math.max(0, counted * counted - gain * gain));
      return new SettledReading(
          read.value(), new FluxDensity(rest), read.degreesOfFreedom(), read.samples());
    }

    private LedgerEvent reread(Rereading compared, Taken taken) {
      return new MagnetReread(
          again.history().magnet(),
          compared.accepted().verdict(),
          taken.number(),
          taken.fieldMicroTesla(),
          taken.uncertaintyNanoTesla(),
          nanoTesla(compared.difference()),
          nanoTesla(compared.uncertainty()),
          -nanoTesla(compared.accepted().timeTakes()),
          Math.round(compared.accepted().since().seconds()),
          compared.finding().word(),
          compared.words());
    }

    private static long nanoTesla(FluxDensity value) {
      return Math.round(value.tesla() * 1e9);
    }
  }
}
