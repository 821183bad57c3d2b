package lodestep.interlock;

/**
 * What was seen when fill contact, switch and bleed were proven. Any thread, immutable.
 *
 * @param filledMilliVolts the bank with the fill relay released, when it began to be watched
 * @param heldMilliVolts the bank at the end of the watch, when the hold was dropped
 * @param heldMicros for how long it was watched, in microseconds
 * @param coilMilliAmps largest coil current in a line of that time, without sign
 * @param bledMilliVolts the bank when it was seen to have bled
 * @param bledMicros how long after the hold was dropped that was, in microseconds
 */
public record BankProof(
    int filledMilliVolts,
    int heldMilliVolts,
    long heldMicros,
    int coilMilliAmps,
    int bledMilliVolts,
    long bledMicros) {}
