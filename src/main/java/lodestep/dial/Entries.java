package lodestep.dial;

import java.util.Optional;
import lodestep.device.Pulse;
import lodestep.device.ShotPlan;
import lodestep.device.ShotResult;
import lodestep.measure.SettledReading;
import lodestep.port.LedgerEvent;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;

/** What an attempt writes into the ledger. */
final class Entries {

  private static final double NANO = 1e9;

  private static final double MILLI = 1e3;

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

  static LedgerEvent intent(Dial dial, Move.Fire move, ShotPlan shot) {
    Pulse pulse = shot.pulse();
    return new LedgerEvent.PulseIntended(
        dial.work().magnet(),
        dial.work().attempt(),
        dial.progress().counts().pulses(),
        move.purpose().word(),
        pulse.drivesNorth(),
        pulse.full(),
        pulse.asked().milliVolts(),
        pulse.highest().milliVolts(),
        Math.round(move.field().amperesPerMetre()),
        Math.round(shot.expectedPeakAmps() * MILLI),
        dial.work().drive().coil().name());
  }

  static LedgerEvent pulseEnded(Dial dial, ShotPlan plan, ShotResult result, View view) {
    Optional<HeadFrame.PulseReport> report = result.report();
    long coilCentiDegC =
        view.status().map(status -> (long) status.frame().coilCentiDegC()).orElse(0L);
    return new LedgerEvent.PulseEnded(
        plan.intentNumber(),
        dial.work().magnet(),
        result.outcome().word(),
        result.token(),
        report.map(HeadFrame.PulseReport::bootId).orElse(0),
        report.map(HeadFrame.PulseReport::bankBeforeMilliVolts).orElse(0),
        report.map(HeadFrame.PulseReport::bankAfterMilliVolts).orElse(0),
        report.map(HeadFrame.PulseReport::peakForwardMilliAmps).orElse(0),
        report.map(HeadFrame.PulseReport::peakReverseMilliAmps).orElse(0),
        report.map(HeadFrame.PulseReport::durationMicros).orElse(0),
        coilCentiDegC,
        result.why());
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

  /** The measured peak of the pulse's own sign, in amperes; 0 without a report. */
  static double peakAmps(ShotPlan plan, ShotResult result) {
    return result
        .report()
        .map(
            report ->
                plan.pulse().drivesNorth()
                    ? report.peakForwardMilliAmps()
                    : report.peakReverseMilliAmps())
        .map(milliAmps -> milliAmps * 1e-3)
        .orElse(0.0);
  }

  /** Peak current expected of a pulse, with what the rig has taught. */
  static double expectedAmps(Dial dial, Pulse pulse, Temperature coil) {
    return dial.work().drive().expectedAmps(pulse, coil) * dial.memory().ratio(pulse.full());
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
