package lodestep.port;

import lodestep.protocol.HeadFrame;

/**
 * The events of field sources acting on magnets: each act has an intent and one end. What {@link
 * LedgerEvent} says of fields and kinds holds here. Any thread, immutable.
 */
public sealed interface ActEvent extends LedgerEvent {

  /**
   * A field source is about to act on a magnet; durable before anything is energised. The number of
   * the event is the intent's. Each kind of source has a kind of its own.
   */
  sealed interface Intent extends ActEvent {

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

  /** An act of a coil: the head's ring tells of it by its number. */
  sealed interface PulseIntent extends Intent permits PulseIntended, SwitchedPulseIntended {

    /** Expected peak current, by which the pulse is judged, without sign. */
    long peakMilliAmps();

    /** The coil's name on this rig. */
    String coil();

    @Override
    default String source() {
      return coil();
    }

    @Override
    default ActEnded unknown(long number, String why) {
      return PulseEnded.unknown(number, magnet(), why);
    }
  }

  /** How an act of a field source ended; exactly one for each intent. */
  sealed interface ActEnded extends ActEvent {

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
      implements PulseIntent {}

  /**
   * A pulse of a switched coil is about to be made.
   *
   * @param full whether the ladder is bridged: the charging range
   * @param level of the ladder, by the relays that are closed; 0 when it is bridged
   * @param onMicros how long the gate is to be driven
   * @param supplyMilliVolts voltage of the supply
   * @param fieldAmperesPerMetre expected peak at the work, without sign
   * @param peakMilliAmps expected peak current, by which the pulse is judged, without sign
   */
  record SwitchedPulseIntended(
      long magnet,
      long attempt,
      long ordinal,
      String purpose,
      boolean drivesNorth,
      boolean full,
      long level,
      long onMicros,
      long supplyMilliVolts,
      long fieldAmperesPerMetre,
      long peakMilliAmps,
      String coil)
      implements PulseIntent {}

  /**
   * How a pulse of a coil ended.
   *
   * @param bankBeforeMilliVolts the bank before it, or a switched coil's feed
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
      implements ActEnded {

    /** The end by the head's report. */
    public static PulseEnded of(
        long intent,
        long magnet,
        String outcome,
        HeadFrame.PulseReport report,
        long coilCentiDegC,
        String why) {
      return new PulseEnded(
          intent,
          magnet,
          outcome,
          report.token(),
          report.bootId(),
          report.bankBeforeMilliVolts(),
          report.bankAfterMilliVolts(),
          report.peakForwardMilliAmps(),
          report.peakReverseMilliAmps(),
          report.durationMicros(),
          coilCentiDegC,
          why);
    }

    static PulseEnded unknown(long intent, long magnet, String why) {
      return new PulseEnded(intent, magnet, "unknown", 0, 0, 0, 0, 0, 0, 0, 0, why);
    }
  }

  /**
   * A stroke of the reverse jig is about to be made: down to this position and back.
   *
   * @param ordinal which act of this attempt, from 1
   * @param positionMicroMetres the lowest position asked, from home
   * @param gapMicroMetres between the two faces there
   * @param fieldAmperesPerMetre field expected there at the work, without sign
   */
  record StrokeIntended(
      long magnet,
      long attempt,
      long ordinal,
      String purpose,
      boolean drivesNorth,
      long positionMicroMetres,
      long gapMicroMetres,
      long fieldAmperesPerMetre)
      implements Intent {

    @Override
    public String source() {
      return "jig";
    }

    @Override
    public ActEnded unknown(long number, String why) {
      return new StrokeEnded(number, magnet, "unknown", 0, 0, 0, drivesNorth, 0, why);
    }
  }

  /**
   * How a stroke ended.
   *
   * @param positionMicroMetres the lowest position the carriage was seen at, from home
   * @param gapMicroMetres between the two faces there
   * @param fieldAmperesPerMetre field at the work there, by the gap curve then known
   */
  record StrokeEnded(
      long intent,
      long magnet,
      String outcome,
      long positionMicroMetres,
      long gapMicroMetres,
      long fieldAmperesPerMetre,
      boolean drivesNorth,
      long bootId,
      String why)
      implements ActEnded {}
}
