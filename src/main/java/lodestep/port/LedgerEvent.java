package lodestep.port;

import java.util.List;

/**
 * One kind of event of the ledger; what is not here is not on record. Any thread, immutable.
 *
 * <p>The components are the fields of the canonical form: text, whole numbers of scaled units named
 * by their suffix, truth values, or a list of whole numbers. Their names, meanings and signs stand
 * in records for years: a field is never renamed or given a second meaning; a new meaning is a new
 * kind. Flux density is positive where the gauge's face is north. A field that does not apply is 0
 * or the empty text.
 */
public sealed interface LedgerEvent {

  /** First event of every ledger: binds it to one rig and to "real" or "virtual". */
  record LedgerCreated(String rig, String rigKind, long schema) implements LedgerEvent {}

  /**
   * The program took the ledger up.
   *
   * @param clockSynchronised whether the machine says its wall clock is set from outside
   */
  record ProgramStarted(String version, String rigFileSha256, boolean clockSynchronised)
      implements LedgerEvent {}

  /** The program let the ledger go in good order. */
  record ProgramStopped(String why) implements LedgerEvent {}

  /** The head said who it is. */
  record HeadSeen(String serialNumber, String firmwareVersion, long bootId, boolean watchdogProven)
      implements LedgerEvent {}

  /**
   * How counts become tesla from here on; each reading names the number of this event.
   *
   * @param countsPerTesla whole counts for one tesla at the reference temperature
   * @param gainPpmPerKelvin change of the gain with gauge temperature
   * @param referenceCentiDegC the reference temperature
   * @param gainStandardUncertaintyPpm standard uncertainty of the gain
   * @param source certificate or procedure that gave it
   */
  record CalibrationSet(
      long countsPerTesla,
      long gainPpmPerKelvin,
      long referenceCentiDegC,
      long gainStandardUncertaintyPpm,
      String source)
      implements LedgerEvent {}

  /**
   * A batch began.
   *
   * @param planSha256 of the plan's bytes, hexadecimal
   * @param planText the plan as it was read, so that the batch can be continued from the ledger
   */
  record BatchStarted(String name, String planSha256, String planText, long magnets)
      implements LedgerEvent {}

  /** A batch ended: all its magnets have a verdict, or a person finished it. */
  record BatchEnded(long batch, long accepted, long refused, long open, String why)
      implements LedgerEvent {}

  /**
   * A magnet got its identity: the number of this event.
   *
   * @param batch number of the batch's event
   * @param row line of the plan, from 1
   * @param ordinal which of the row's magnets, from 1
   * @param shape "rod", "bar" with the axis, as the plan says it
   * @param sizesMicroMetres rod: diameter, length; bar: length, width, thickness
   * @param poleUp "north" or "south": the face that will look at the strings, read by the gauge
   * @param targetMicroTesla signed as the gauge reads it; 0 when demagnetising or relative
   * @param toleranceMicroTesla half width, &ge; 0
   * @param task "level", "down-by", "demagnetise"
   */
  record MagnetNamed(
      long batch,
      String name,
      long row,
      long ordinal,
      String set,
      String alloy,
      String shape,
      List<Long> sizesMicroMetres,
      String nest,
      String poleUp,
      String task,
      long targetMicroTesla,
      long toleranceMicroTesla)
      implements LedgerEvent {
    public MagnetNamed {
      sizesMicroMetres = List.copyOf(sizesMicroMetres);
    }
  }

  /** A magnet was put in the nest and started by the pedal; the attempt counts from 1. */
  record MagnetStarted(long magnet, long attempt, String nest) implements LedgerEvent {}

  /**
   * A zero of the gauge was taken: seat empty, jig parked, coil current zero.
   *
   * @param zeroMilliCounts mean of the counts, in thousandths
   * @param uncertaintyMilliCounts its standard uncertainty
   */
  record ZeroTaken(
      long zeroMilliCounts,
      long uncertaintyMilliCounts,
      long samples,
      long gaugeCentiDegC,
      long calibration)
      implements LedgerEvent {}

  /** A zero was not taken, and why; the last one stands. */
  record ZeroRefused(long zeroMilliCounts, long lastZeroMilliCounts, String why)
      implements LedgerEvent {}

  /**
   * A settled reading.
   *
   * @param stage "as found", "charged", "knocked down", "proof", "final"
   * @param fieldMicroTesla signed
   * @param uncertaintyNanoTesla combined standard uncertainty, placement not counted
   * @param zero number of the zero's event, {@code calibration} of the calibration's
   */
  record ReadingTaken(
      long magnet,
      String stage,
      long fieldMicroTesla,
      long uncertaintyNanoTesla,
      long samples,
      long gaugeCentiDegC,
      String nest,
      long standOffMicroMetres,
      long zero,
      long calibration)
      implements LedgerEvent {}

  /**
   * A pulse is about to be made; durable before the bank is filled. Its number is the intent's.
   *
   * @param ordinal which pulse of this attempt, from 1
   * @param purpose "charge", "knock down", "demagnetise", "proof"
   * @param drivesNorth whether the pulse drives the gauge's face north
   * @param full whether the series resistor is bridged
   * @param bankMilliVolts asked voltage
   * @param bankMilliVoltsMax highest voltage allowed
   * @param fieldAmperesPerMetre expected peak at the work, without sign
   */
  record PulseIntended(
      long magnet,
      long attempt,
      long ordinal,
      String purpose,
      boolean drivesNorth,
      boolean full,
      long bankMilliVolts,
      long bankMilliVoltsMax,
      long fieldAmperesPerMetre,
      String coil)
      implements LedgerEvent {}

  /**
   * How a pulse ended; exactly one for each intent.
   *
   * @param outcome "delivered", "misfired", "not fired", "unverified" or "unknown"
   * @param peakForwardMilliAmps largest current that drives the face north
   * @param peakReverseMilliAmps largest current of the other sign
   */
  record PulseEnded(
      long intent,
      long magnet,
      String outcome,
      long token,
      long bootId,
      long bankBeforeMilliVolts,
      long bankAfterMilliVolts,
      long peakForwardMilliAmps,
      long peakReverseMilliAmps,
      long durationMicros,
      long coilCentiDegC,
      String why)
      implements LedgerEvent {}

  /**
   * A magnet's end.
   *
   * @param verdict "accepted", "refused", "recharge needed" or "tripped"
   * @param knockDowns knock-down pulses of this attempt
   */
  record VerdictGiven(
      long magnet,
      long attempt,
      String verdict,
      long fieldMicroTesla,
      long uncertaintyNanoTesla,
      long charges,
      long knockDowns,
      String why)
      implements LedgerEvent {}

  /** The interlocks let go of everything. */
  record Tripped(long code, String cause, String detail, long magnet) implements LedgerEvent {}

  /** The trip was reset at the rig by the arm key after its cause had gone. */
  record TripReset(long code) implements LedgerEvent {}

  /** A person asked something of the running job. */
  record PersonAsked(String command) implements LedgerEvent {}
}
