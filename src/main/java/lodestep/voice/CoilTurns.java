package lodestep.voice;

import java.math.BigDecimal;
import java.util.Locale;
import lodestep.magnet.Flux;
import lodestep.magnet.FluxSource;
import lodestep.magnet.Place;
import lodestep.magnet.Shape;
import lodestep.magnet.Winding;
import lodestep.quantity.Length;

/**
 * A pickup's coil by its turns: a flat winding about a row of cores. Any thread, immutable.
 *
 * <p>Inductance: that of the winding in air, its turns summed layer by layer ({@link Winding}), and
 * what each core adds, &chi;' b&sup2; V/&mu;0, b the flux density that one ampere makes at the core
 * as a mean along it, V its volume, &chi;' = &chi;/(1 + N&chi;), N its own magnetometric
 * demagnetising factor: the energy of a permeable body in a field that hardly changes along it (L.
 * D. Landau, E. M. Lifshitz, Electrodynamics of Continuous Media, chapter on magnetostatics; from
 * memory).
 *
 * <p>Range: low notes, where no eddy currents flow in the cores yet; cores as long as the winding
 * or a little longer, which do not help or hinder one another: they do by some per cent. Steel bars
 * and plates beside the winding are left out. Good for a first guess, to about a fifth.
 *
 * @param turns 100 to 30,000
 * @param height of the winding, along the cores
 * @param depth of the copper on each side
 * @param pitch from core to core
 * @param count cores, 1 to 12
 * @param core round, in the middle of the winding
 * @param susceptibility of the core; endless for steel
 */
public record CoilTurns(
    double turns,
    Length height,
    Length depth,
    Length pitch,
    int count,
    Shape.Rod core,
    double susceptibility) {

  /** From core to copper; common practice, no source. */
  private static final double BOBBIN = 0.5e-3;

  private static final double MU0 = 4e-7 * Math.PI;
  private static final int SAMPLES = 9;

  /**
   * @throws IllegalArgumentException naming the figure that no coil has
   */
  public CoilTurns {
    require("number of turns", turns, 100, 30_000);
    require("winding's height in mm", height.mm(), 1, 60);
    require("winding's depth in mm", depth.mm(), 0.3, 20);
    require("pitch of the cores in mm", pitch.mm(), 2, 60);
    require("number of cores", count, 1, 12);
  }

  /** With nothing in it, in henries. */
  public double airHenries() {
    return winding().inductanceHenries();
  }

  /** With its cores, in henries. */
  public double henries() {
    return airHenries() + addedHenries();
  }

  private double addedHenries() {
    Winding winding = winding();
    double half = 0.5 * core.length().metres();
    double sum = 0;
    for (int at = 0; at < count; at++) {
      double along = (at - 0.5 * (count - 1)) * pitch.metres();
      double mean = 0;
      FluxSource perAmpere = winding.perAmpere();
      for (int sample = 0; sample < SAMPLES; sample++) {
        double z = half * ((2 * sample + 1.0) / SAMPLES - 1);
        Flux flux = perAmpere.at(new Place(along, 0, z));
        mean += flux.zTesla() / SAMPLES;
      }
      sum += mean * mean;
    }
    double own = core.demagnetisingFactor();
    double apparent =
        Double.isInfinite(susceptibility) ? 1 / own : susceptibility / (1 + own * susceptibility);
    return apparent * core.volumeCubicMetres() * sum / MU0;
  }

  private Winding winding() {
    double across = core.diameter().metres() + 2 * BOBBIN;
    double along = (count - 1) * pitch.metres() + across;
    return new Winding.Rectangular(along, across, depth.metres(), height.metres(), turns);
  }

  private static void require(String which, double value, double least, double most) {
    if (!(value >= least && value <= most)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "the %s is %s to %s, not %s",
              which,
              plain(least),
              plain(most),
              plain(value)));
    }
  }

  private static String plain(double value) {
    return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
  }
}
