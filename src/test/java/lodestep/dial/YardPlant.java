package lodestep.dial;

import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import lodestep.magnet.Alloy;
import lodestep.magnet.Hysteresis;
import lodestep.magnet.MagnetModel;
import lodestep.magnet.MagnetState;
import lodestep.magnet.Spread;
import lodestep.quantity.FieldStrength;
import org.hipparchus.special.Erf;

/** Where the yardstick's magnets come from, and the noise of its gauge. */
enum YardPlant {

  /** The program's own hysteresis, normal noise. */
  OWN("own hysteresis") {
    @Override
    Lot lot(YardKind kind, SplittableRandom random) {
      Spread spread = kind.model().alloy().spread();
      double remanence = 1 + bounded(random) * spread.remanenceLot();
      double coercivity = 1 + bounded(random) * spread.coercivityLot();
      double gauge = 1 + bounded(random) * GAUGE;
      double coil = 1 + bounded(random) * COIL;
      MagnetModel nominal = kind.model().model();
      Hysteresis loop = nominal.loop().scaled(remanence, coercivity);
      return draw -> {
        Hysteresis own =
            loop.scaled(
                1 + bounded(draw) * spread.remanenceMagnet(),
                1 + bounded(draw) * spread.coercivityMagnet());
        double factor = nominal.demagnetisingFactor() * (1 + bounded(draw) * SIZES);
        double face = gauge * (1 + bounded(draw) * FACE);
        MagnetModel model = new MagnetModel(own, Math.min(1, factor));
        MagnetState charged = model.charged();
        double strength = model.chargedPolarisationTesla() / nominal.chargedPolarisationTesla();
        return peak -> {
          MagnetState left =
              peak <= 0 ? charged : model.afterPulse(charged, new FieldStrength(-peak * coil));
          return face * kind.face().tesla(model.polarisationTesla(left), strength);
        };
      };
    }

    @Override
    double noise(SplittableRandom random) {
      return random.nextGaussian();
    }
  },

  /**
   * Another family: fields at which parts of the magnet turn over spread log-normally with a long
   * tail, on a load line of its own; the gauge's noise has the heavy tails of Student's t with five
   * degrees of freedom.
   */
  OTHER("another hysteresis") {
    @Override
    Lot lot(YardKind kind, SplittableRandom random) {
      Alloy alloy = kind.model().alloy();
      Spread spread = alloy.spread();
      double remanence = 1 + bounded(random) * spread.remanenceLot();
      double coercivity = 1 + bounded(random) * spread.coercivityLot();
      double gauge = 1 + bounded(random) * GAUGE;
      double coil = 1 + bounded(random) * COIL;
      MagnetModel nominal = kind.model().model();
      Hysteresis loop = nominal.loop();
      double width = WIDER * loop.widthAmperesPerMetre() / loop.centreAmperesPerMetre();
      double strong = alloy.remanence().tesla() * remanence;
      double hard = loop.centreAmperesPerMetre() * coercivity;
      double even = gauge * kind.full().tesla() / nominal.chargedPolarisationTesla();
      return draw -> {
        Turning turning =
            new Turning(
                strong * (1 + bounded(draw) * spread.remanenceMagnet()),
                hard * (1 + bounded(draw) * spread.coercivityMagnet()),
                width * (1 + bounded(draw) * WIDTHS),
                nominal.demagnetisingFactor() * (1 + bounded(draw) * SIZES),
                alloy.recoilPermeability() - 1);
        double face = even * (1 + bounded(draw) * FACE);
        return peak -> face * turning.leftTesla(Math.max(0, peak) * coil);
      };
    }

    @Override
    double noise(SplittableRandom random) {
      double squares = 0;
      for (int i = 0; i < FREEDOM; i++) {
        double drawn = random.nextGaussian();
        squares += drawn * drawn;
      }
      double student = random.nextGaussian() / Math.sqrt(squares / FREEDOM);
      return student * Math.sqrt((FREEDOM - 2.0) / FREEDOM);
    }
  };

  // Spreads that rig.toml and notes leave, relative; common practice, no source.
  private static final double GAUGE = 0.01;
  private static final double COIL = 0.015;
  private static final double SIZES = 0.006;
  private static final double FACE = 0.004;
  private static final double WIDTHS = 0.05;
  private static final double WIDER = 1.15;
  private static final int FREEDOM = 5;
  private static final double SIGMAS_MAX = 3;

  private final String words;

  YardPlant(String words) {
    this.words = words;
  }

  /** What a reverse peak in A/m leaves of a full charge, in tesla, as it reads at nominal seat. */
  interface Magnet extends DoubleUnaryOperator {}

  /** Magnets of one lot on one rig. */
  interface Lot {
    Magnet draw(SplittableRandom random);
  }

  abstract Lot lot(YardKind kind, SplittableRandom random);

  /** Of variance one. */
  abstract double noise(SplittableRandom random);

  String words() {
    return words;
  }

  static double bounded(SplittableRandom random) {
    return Math.max(-SIGMAS_MAX, Math.min(SIGMAS_MAX, random.nextGaussian()));
  }

  /** A magnet of the other family. */
  private record Turning(
      double saturationTesla, double centre, double width, double factor, double susceptibility) {

    private static final double MU0 = 4e-7 * Math.PI;
    private static final double TAIL = 0.15;
    private static final int HALVINGS = 60;

    double leftTesla(double peak) {
      double low = -4 * centre;
      double high = 4 * centre;
      for (int i = 0; i < HALVINGS; i++) {
        double net = 0.5 * (low + high);
        double polarisation = turnedTesla(net) + MU0 * susceptibility * net;
        boolean above = net + factor / MU0 * polarisation > -peak;
        high = above ? net : high;
        low = above ? low : net;
      }
      return turnedTesla(low) / (1 + factor * susceptibility);
    }

    private double turnedTesla(double net) {
      return saturationTesla * (1 - 2 * share(-net));
    }

    private double share(double reverse) {
      if (reverse <= 0) {
        return 0;
      }
      double z = Math.log(reverse / centre) / width;
      double normal = 0.5 * (1 + Erf.erf(z / Math.sqrt(2)));
      return (1 - TAIL) * normal + TAIL / (1 + Math.exp(-1.2 * z));
    }
  }
}
