package lodestep.dial;

import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import lodestep.quantity.TimeSpan;

/**
 * What a magnet read when it was accepted: what it is compared with when it is read again. Any
 * thread, immutable.
 *
 * @param verdict ledger number of the verdict
 * @param value its reading then, signed
 * @param noise standard uncertainty of that reading, placement not counted, nor the gain where both
 *     readings share it
 * @param gainShared whether the gauge was calibrated alike then and now
 * @param gauge temperature at the gauge then
 * @param target signed; zero when it was demagnetised
 * @param tolerance half width, or the largest reading that counts as uncharged
 * @param since from that reading to this
 * @param timeTakes what time alone is expected to have taken of it since, without sign
 * @param perKelvin reversible change of its reading for one kelvin, relative
 * @param perKelvinUncertainty standard, of that
 * @param placement relative standard uncertainty of how it lies in its nest, each time anew
 */
public record Accepted(
    long verdict,
    FluxDensity value,
    FluxDensity noise,
    boolean gainShared,
    Temperature gauge,
    FluxDensity target,
    FluxDensity tolerance,
    TimeSpan since,
    FluxDensity timeTakes,
    double perKelvin,
    double perKelvinUncertainty,
    double placement) {}
