package lodestep.config;

import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Voltage;

/**
 * Times and levels of interlocks and sequences. They are part of the design and no settings: a
 * safety reaction that can be set can be set wrong, so rig.toml does not name them. Starting values
 * are engineering judgement until measured on a rig.
 */
public record Limits(
    long scanPeriodNs,
    long scanLateFireWaitsNs,
    long scanLateTripNs,
    long statusAgeFireNs,
    long statusAgeTripNs,
    long contactsDisagreeNs,
    long relaySettleNs,
    long relayMirrorNs,
    long readBackNs,
    long bankHeldNs,
    long bankFallNs,
    long bankProofNs,
    long windowWaitNs,
    long fireForNs,
    long reportWaitNs,
    long pedalLapseNs,
    long ledgerWaitNs,
    Voltage bankLow,
    Voltage bankOver,
    ElectricCurrent currentZero,
    double wrongSignFraction,
    FluxDensity zeroJump) {

  /** The design's values. */
  public static Limits standard() {
    final long ms = 1_000_000L;
    return new Limits(
        5 * ms, // scan period
        20 * ms, // a scan later than this does not fire
        150 * ms, // a scan later than this trips
        50 * ms, // two to seven status lines: older must not be fired on
        150 * ms, // older is a silent head
        50 * ms, // host and head may differ this long: two status lines, bounce and travel
        50 * ms, // changeover stable before fire: three times operate and bounce of a small relay
        100 * ms, // a relay's mirror contact must have followed by then
        10 * ms, // read-back of an output may lag two scans
        30_000 * ms, // dead man: a filled bank is bled after this
        500 * ms, // bleeding or firing must show in the bank's voltage by then
        600_000L * ms, // a proof of fill contact, switch and bleed counts no longer
        300 * ms, // the head's longest fire window
        60 * ms, // gate time of a pulse: eddies need 3 ms, the head's window allows 300
        500 * ms, // the head's pulse report must have come
        10_000L * ms, // a pedal press not acted on lapses
        2_000 * ms, // an intent that is not durable by then is dropped
        new Voltage(10.0), // 4 per cent of a full bank's energy
        new Voltage(51.0), // two per cent over the cap
        new ElectricCurrent(0.05), // coil current that counts as none
        0.02, // peak current of the wrong sign that is a trip, as a fraction of the right one
        new FluxDensity(1e-4)); // a zero that jumps further is refused
  }
}
