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
   * @param rigFileSha256 of the rig's description, hexadecimal; its text stands in the newest
   *     {@link RigDescribed} with this hash
   * @param virtualSeed of the virtual rig's stock, in decimal; empty on a real rig
   * @param clockSynchronised whether the machine says its wall clock is set from outside; false
   *     when it does not say, and always in virtual time
   */
  record ProgramStarted(
      String version, String rigFileSha256, String virtualSeed, boolean clockSynchronised)
      implements LedgerEvent {}

  /**
   * The rig's description as it was read, so that coils, nests and stand-offs of years ago can be
   * looked up. Written when the description is not yet in this ledger.
   *
   * @param sha256 of the text's bytes in UTF-8, hexadecimal
   */
  record RigDescribed(String sha256, String text) implements LedgerEvent {}

  /** The program let the ledger go in good order. */
  record ProgramStopped(String why) implements LedgerEvent {}

  /**
   * The head said who it is; once for each of its runs, be it the right head or not.
   *
   * @param bootId the head's present run, 0 to 65535; two runs may share one by chance
   */
  record HeadSeen(
      String serialNumber,
      long protocolVersion,
      String firmwareVersion,
      long bootId,
      boolean watchdogProven)
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

  /**
   * A person had a batch that was left open go on.
   *
   * @param open magnets with no verdict that stands
   */
  record BatchContinued(long batch, long open) implements LedgerEvent {}

  /** A batch ended: all its magnets have a verdict, or a person finished it. */
  record BatchEnded(long batch, long accepted, long refused, long open, String why)
      implements LedgerEvent {}

  /**
   * A magnet got its identity: the number of this event. What was asked of it stands here in full;
   * what a relative task came to for this magnet stands in its verdict.
   *
   * @param batch number of the batch's event; 0 of a magnet worked by hand, in no batch
   * @param row line of the plan, from 1
   * @param ordinal which of the row's magnets, from 1
   * @param set the set it belongs to; empty if none
   * @param lot the supplier's lot, as the plan says it; empty if it does not
   * @param shape "rod", "bar" with the axis, as the plan says it
   * @param sizesMicroMetres rod: diameter, length; bar: length, width, thickness
   * @param poleUp "north" or "south": the face that will look at the strings, read by the gauge
   * @param task "level", "down-by", "demagnetise"
   * @param targetMicroTesla of "level", signed as the gauge reads it
   * @param dropMicroTesla of "down-by", when asked in flux
   * @param dropPartsPerMillion of "down-by", when asked in parts of what it reads
   * @param toleranceMicroTesla half width of the band, when it is one of flux
   * @param tolerancePartsPerMillion half width in parts of the level that "down-by" comes to
   * @param unchargedMicroTesla of "demagnetise": the largest reading that counts as uncharged
   */
  record MagnetNamed(
      long batch,
      String name,
      long row,
      long ordinal,
      String set,
      String lot,
      String alloy,
      String shape,
      List<Long> sizesMicroMetres,
      String nest,
      String poleUp,
      String task,
      long targetMicroTesla,
      long dropMicroTesla,
      long dropPartsPerMillion,
      long toleranceMicroTesla,
      long tolerancePartsPerMillion,
      long unchargedMicroTesla)
      implements LedgerEvent {
    public MagnetNamed {
      sizesMicroMetres = List.copyOf(sizesMicroMetres);
    }
  }

  /**
   * A magnet was put in the nest and started by the pedal; the attempt counts from 1.
   *
   * @param planner "secant" or "small steps": how the pulses of this attempt are chosen; "by hand"
   *     when there are none
   */
  record MagnetStarted(long magnet, long attempt, String nest, String planner)
      implements LedgerEvent {}

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
   * @param stage "as found", or after the pulse before it: "charged", "knocked down",
   *     "demagnetised", "proof"
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
   * A field source is about to act on a magnet; durable before anything is energised. The number of
   * the event is the intent's. Each kind of source has a kind of its own.
   */
  sealed interface Intent extends LedgerEvent {

    /** The magnet in the nest. */
    long magnet();

    /** Which attempt on it, from 1. */
    long attempt();

    /** Which act of this attempt, from 1. */
    long ordinal();

    /** "charge", "knock down", "demagnetise", "proof". */
    String purpose();

    /** Whether it drives the gauge's face north. */
    boolean drivesNorth();

    /** Expected peak at the work, without sign. */
    long fieldAmperesPerMetre();

    /** The source's name on this rig. */
    String source();

    /** The end of an act that a crash cut off: nobody knows whether it was carried out. */
    ActEnded unknown(long number, String why);
  }

  /** How an act of a field source ended; exactly one for each intent. */
  sealed interface ActEnded extends LedgerEvent {

    /** Number of the intent. */
    long intent();

    /** The magnet that was in the nest. */
    long magnet();

    /** "delivered", "misfired", "not fired", "unverified" or "unknown". */
    String outcome();

    /** One sentence when it was not delivered; else empty. */
    String why();
  }

  /**
   * A pulse of the bank is about to be made.
   *
   * @param ordinal which pulse of this attempt, from 1
   * @param purpose "charge", "knock down", "demagnetise", "proof"
   * @param drivesNorth whether the pulse drives the gauge's face north
   * @param full whether the series resistor is bridged
   * @param bankMilliVolts asked voltage
   * @param bankMilliVoltsMax highest voltage allowed
   * @param fieldAmperesPerMetre expected peak at the work, without sign
   * @param peakMilliAmps expected peak current, by which the pulse is judged, without sign
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
      long peakMilliAmps,
      String coil)
      implements Intent {

    @Override
    public String source() {
      return coil;
    }

    @Override
    public ActEnded unknown(long number, String why) {
      return new PulseEnded(number, magnet, "unknown", 0, 0, 0, 0, 0, 0, 0, 0, why);
    }
  }

  /**
   * How a pulse ended.
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
      implements ActEnded {}

  /**
   * A person acted on the magnet by hand, as the program asked, and what the gauge read before and
   * after it. No pulse of the rig has a part in it.
   *
   * @param ordinal which act of this attempt, from 1
   * @param act "charge", "knock down", "demagnetise", "proof"
   * @param drivesNorth whether the act drives the gauge's face north
   * @param asked what the program asked for, in words
   * @param beforeMicroTesla the settled reading before, signed
   * @param afterMicroTesla the settled reading after, signed
   * @param nearestMicroTesla by how much the reading was pulled down at the most while the opposing
   *     magnet was near, without sign; 0 for a charge
   */
  record ActByHand(
      long magnet,
      long attempt,
      long ordinal,
      String act,
      boolean drivesNorth,
      String asked,
      long beforeMicroTesla,
      long afterMicroTesla,
      long nearestMicroTesla)
      implements LedgerEvent {}

  /**
   * A person typed what another gauge reads. It stands beside our readings and takes no part in any
   * verdict.
   *
   * @param fieldMicroTesla as typed; a pole that was named gives the sign
   * @param pole "north" or "south" if the person said it, by word or by sign; empty if not
   * @param gauge what the person calls the other gauge
   * @param typed the reading, letter by letter
   */
  record ReadingTyped(long magnet, long fieldMicroTesla, String pole, String gauge, String typed)
      implements LedgerEvent {}

  /**
   * An attempt's end. An attempt that a killed program left open is closed as "tripped" at the next
   * start; its figures but the counts are 0.
   *
   * @param verdict "accepted", "refused", "recharge needed" or "tripped"
   * @param fieldMicroTesla the last settled reading, signed
   * @param uncertaintyNanoTesla its standard uncertainty
   * @param targetMicroTesla signed; what it was judged against, also after "down-by"; 0 when
   *     demagnetising, or when no reading gave a relative task its level
   * @param toleranceMicroTesla half width, or the largest reading that counts as uncharged
   * @param guardNanoTesla by how much the tolerance was narrowed on each side for the judgement
   * @param charges charging pulses of this attempt; likewise the other two
   */
  record VerdictGiven(
      long magnet,
      long attempt,
      String verdict,
      long fieldMicroTesla,
      long uncertaintyNanoTesla,
      long targetMicroTesla,
      long toleranceMicroTesla,
      long guardNanoTesla,
      long charges,
      long knockDowns,
      long demagnetisingPulses,
      String why)
      implements LedgerEvent {}

  /** The interlocks let go of everything. */
  record Tripped(long code, String cause, String detail, long magnet) implements LedgerEvent {}

  /** The trip was reset at the rig by the arm key after its cause had gone. */
  record TripReset(long code) implements LedgerEvent {}

  /** A person asked something of the running job. */
  record PersonAsked(String command) implements LedgerEvent {}
}
