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
public sealed interface LedgerEvent
    permits ActEvent,
        GaugeEvent,
        KeepingEvent,
        StockEvent,
        LedgerEvent.LedgerCreated,
        LedgerEvent.LedgerSetAside,
        LedgerEvent.ProgramStarted,
        LedgerEvent.RigDescribed,
        LedgerEvent.ProgramStopped,
        LedgerEvent.HeadSeen,
        LedgerEvent.BankProven,
        LedgerEvent.CoilSeenTo,
        LedgerEvent.CalibrationSet,
        LedgerEvent.BatchStarted,
        LedgerEvent.BatchContinued,
        LedgerEvent.BatchEnded,
        LedgerEvent.MagnetNamed,
        LedgerEvent.MagnetStarted,
        LedgerEvent.ZeroTaken,
        LedgerEvent.ZeroRefused,
        LedgerEvent.ReadingTaken,
        LedgerEvent.GapCurveMeasured,
        LedgerEvent.CurvePoint,
        LedgerEvent.ActByHand,
        LedgerEvent.ReadingTyped,
        LedgerEvent.VerdictGiven,
        LedgerEvent.Tripped,
        LedgerEvent.TripReset,
        LedgerEvent.PersonAsked {

  /** First event of every ledger: binds it to one rig and to "real" or "virtual". */
  record LedgerCreated(String rig, String rigKind, long schema) implements LedgerEvent {}

  /**
   * Another file held this rig's record until here, and was set aside: damaged, or in favour of a
   * backup that lacked some of its events. What it holds beyond this is to be looked up there.
   *
   * @param name of the file it was set aside as, in the ledger's folder
   * @param lastNumber its last event that was proven good; 0 if none could be
   * @param lastHash of that event, hexadecimal; zeros if there is none
   */
  record LedgerSetAside(String name, long lastNumber, String lastHash, String why)
      implements LedgerEvent {}

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
   * Before the bank was filled for a pulse, fill contact, switch and bleed were seen to work with
   * at most 10 V in it: with the fill relay let go the held bank neither rose nor drove a current
   * nor fell faster than its bleeder lets it, and let go it bled.
   *
   * @param magnet the magnet in the nest
   * @param filledMilliVolts the bank when it began to be watched, the fill contact seen open
   * @param heldMilliVolts the bank when the watch ended and the hold was dropped
   * @param heldMicros for how long it was watched
   * @param coilMilliAmps largest coil current measured in that time, without sign
   * @param bledMilliVolts the bank when it was seen to have come to half or less
   * @param bledMicros how long after the hold was dropped that was
   */
  record BankProven(
      long magnet,
      long filledMilliVolts,
      long heldMilliVolts,
      long heldMicros,
      long coilMilliAmps,
      long bledMilliVolts,
      long bledMicros)
      implements LedgerEvent {}

  /**
   * A coil had carried another current than it used to, and a person has seen to it and said that
   * it may go on.
   *
   * @param full whether that was in the charging range
   * @param offPartsPerMillion by how much it was more than usual; below zero when it was less
   */
  record CoilSeenTo(String coil, boolean full, long offPartsPerMillion) implements LedgerEvent {}

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
   * @param shape "rod", "ring", "bar" with the axis, as the plan says it
   * @param sizesMicroMetres rod: diameter, length; ring: outside and inside diameter, length; bar:
   *     length, width, thickness
   * @param poleUp "north" or "south": the face that will look at the strings, read by the gauge
   * @param task "level", "down-by", "demagnetise", "full-charge"
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
   * @param planner "expected curve" or "small steps": how the pulses of this attempt are chosen;
   *     "by hand" when there are none
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
   *     "demagnetised", "proof"; "after a while" when it was let rest since, "read again" when
   *     nothing was done to it
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
   * The jig's gap curve was measured by the gauge, with the seat empty and the carriage at several
   * heights.
   *
   * @param strengthPartsPerMillion of what rig.toml tells of the opposing magnet
   * @param heightMicroMetres by how much higher it stands than rig.toml says
   * @param strayNanoTesla at the gauge with the jig parked, signed: a part of every zero
   * @param strayUncertaintyNanoTesla its standard uncertainty
   */
  record GapCurveMeasured(
      long strengthPartsPerMillion,
      long heightMicroMetres,
      long strayNanoTesla,
      long strayUncertaintyNanoTesla,
      long stations,
      long calibration)
      implements LedgerEvent {}

  /**
   * A point of a magnet's knock-down curve that is counted in what is expected of later magnets of
   * its kind.
   *
   * @param of kind of magnet, and the nest it was read in
   * @param charge counts the charges of its attempt after which it was knocked down, from 1
   * @param fullMicroTesla reading after that charge, positive
   * @param fieldMilliAmperesPerMetre largest reverse peak since, as delivered, positive
   * @param levelMicroTesla reading after it, positive on the pole that was charged
   */
  record CurvePoint(
      String of,
      long magnet,
      long attempt,
      long charge,
      long fullMicroTesla,
      long fieldMilliAmperesPerMetre,
      long levelMicroTesla)
      implements LedgerEvent {}

  /**
   * A person acted on the magnet by hand, as the program asked, and what the gauge read before and
   * after it. No pulse of the rig has a part in it.
   *
   * @param ordinal which act of this attempt, from 1
   * @param act "charge", "knock down", "demagnetise", "proof"
   * @param drivesNorth whether the act drives the gauge's face north
   * @param asked what the program asked for, in words
   * @param beforeMicroTesla the settled reading before, signed; 0 when, as "asked" then says, it
   *     was not read before
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
   *     demagnetising, of a full charge, or when no reading gave a relative task its level
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
