package lodestep.dial;

import java.util.List;
import java.util.Optional;
import lodestep.device.Order;
import lodestep.measure.SettledReading;
import lodestep.port.KeepingEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.View;
import lodestep.quantity.FluxDensity;

/** What an attempt writes into the ledger. */
final class Entries {

  private static final double NANO = 1e9;

  private Entries() {}

  static LedgerEvent reading(Dial dial, String stage, SettledReading reading, View view) {
    long gaugeCentiDegC =
        view.status().map(status -> (long) status.frame().gaugeCentiDegC()).orElse(0L);
    return new LedgerEvent.ReadingTaken(
        dial.work().magnet(),
        stage,
        reading.value().microTesla(),
        nanoTesla(counted(dial, reading)),
        reading.samples(),
        gaugeCentiDegC,
        dial.work().nest().name(),
        dial.work().nest().standOff().microMetres(),
        dial.zero().number(),
        dial.work().calibrationNumber());
  }

  /** What the move asks of its source. */
  static Order order(Dial dial, Move.Fire move) {
    return new Order(
        dial.work().magnet(),
        dial.work().attempt(),
        dial.progress().counts().pulses(),
        move.purpose().word(),
        move.drivesNorth(),
        move.field());
  }

  /** The charge by hand that led to this reading. */
  static LedgerEvent chargedByHand(Dial dial, SettledReading after) {
    boolean north = dial.work().pole() == PoleUp.NORTH;
    Optional<SettledReading> before = dial.progress().last();
    String asked =
        "charge between the jaws, gauge's face "
            + (north ? "north" : "south")
            + (before.isPresent() ? "" : ", before it was put in; not read before");
    return new LedgerEvent.ActByHand(
        dial.work().magnet(),
        dial.work().attempt(),
        dial.progress().counts().pulses(),
        Purpose.CHARGE.word(),
        north,
        asked,
        before.map(reading -> reading.value().microTesla()).orElse(0L),
        after.value().microTesla(),
        0);
  }

  /** Whether the newest reading shows the pole that is asked, and not next to nothing. */
  static boolean tookCharge(Dial dial) {
    double level =
        dial.progress()
            .last()
            .map(reading -> dial.work().pole().sign() * reading.value().tesla())
            .orElse(0.0);
    return Planner.took(dial.work(), dial.progress(), dial.memory(), level);
  }

  static LedgerEvent verdict(Dial dial, Verdict verdict, String why) {
    Optional<SettledReading> last = dial.progress().last();
    Band band = Band.of(dial);
    return new LedgerEvent.VerdictGiven(
        dial.work().magnet(),
        dial.work().attempt(),
        verdict.word(),
        last.map(reading -> reading.value().microTesla()).orElse(0L),
        last.map(reading -> nanoTesla(counted(dial, reading))).orElse(0L),
        band.target().microTesla(),
        band.tolerance().microTesla(),
        nanoTesla(band.guard()),
        dial.progress().counts().charges(),
        dial.progress().counts().knockDowns(),
        dial.progress().counts().demagnetising(),
        why);
  }

  /** What closes an attempt that was cut short: nothing of a magnet that was only to be read. */
  static List<LedgerEvent> tripped(Dial dial, String why) {
    return dial.work().again().isPresent()
        ? List.of()
        : List.of(verdict(dial, Verdict.TRIPPED, why));
  }

  /** The new reading beside the one the magnet was accepted by. */
  static Rereading rereading(Dial dial, SettledReading reading, View view) {
    double degC = view.status().map(status -> status.frame().gaugeCentiDegC() * 1e-2).orElse(0.0);
    return Rereading.of(
        dial.work().again().orElseThrow(), reading, dial.work().calibration(), dial.zero(), degC);
  }

  /**
   * What a magnet was found to be when it was read again.
   *
   * @param number of the reading's event
   */
  static LedgerEvent reread(Dial dial, Rereading compared, long number) {
    SettledReading now = dial.progress().last().orElseThrow();
    return new KeepingEvent.MagnetReread(
        dial.work().magnet(),
        compared.accepted().verdict(),
        number,
        now.value().microTesla(),
        nanoTesla(counted(dial, now)),
        nanoTesla(compared.difference()),
        nanoTesla(compared.uncertainty()),
        -nanoTesla(compared.accepted().timeTakes()),
        Math.round(compared.accepted().since().seconds()),
        compared.finding().word(),
        compared.words());
  }

  /** The reading's stage after a pulse of this purpose. */
  static String stageAfter(Purpose purpose) {
    return switch (purpose) {
      case CHARGE -> "charged";
      case KNOCK_DOWN -> "knocked down";
      case DEMAGNETISE -> "demagnetised";
      case PROOF -> "proof";
    };
  }

  /** Standard uncertainty with gain and zero counted in. */
  private static FluxDensity counted(Dial dial, SettledReading reading) {
    return dial.work().calibration().counted(reading, dial.zero().gauge()).standardUncertainty();
  }

  private static long nanoTesla(FluxDensity value) {
    return Math.round(value.tesla() * NANO);
  }
}
