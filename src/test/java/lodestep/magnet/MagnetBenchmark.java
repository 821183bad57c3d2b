package lodestep.magnet;

import java.util.concurrent.TimeUnit;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Length;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/**
 * How long one pulse on the load line takes, and the field at a place. Run by {@code mvn -Dquick
 * -Pbench test}.
 */
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
@State(Scope.Benchmark)
public class MagnetBenchmark {

  private static final Shape.Rod ROD = new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5));
  private static final int KNOCK_DOWNS = 20;

  private final Hysteresis loop =
      Hysteresis.of(AlloyBook.standard().find("alnico 5").orElseThrow());
  private final MagnetModel model = new MagnetModel(loop, ROD.demagnetisingFactor());
  private final FieldStrength charge = new FieldStrength(400e3);
  private final MagnetState charged = model.afterPulse(model.uncharged(), charge);
  private final MagnetState knockedDown = knockedDown();
  private final RelayEnsemble relays =
      new RelayEnsemble(loop, ROD.demagnetisingFactor(), RelayEnsemble.GRID);
  private final FluxSource cylinder = new Cylinder(2.45e-3, 8.25e-3);
  private final FluxSource block = new Block(29e-3, 2e-3, 5.5e-3);
  private double peak = 30e3;
  private double x = 1.3e-3;

  private MagnetState knockedDown() {
    MagnetState state = charged;
    for (int i = 1; i <= KNOCK_DOWNS; i++) {
      state = model.afterPulse(state, new FieldStrength(-i * 1.4e3));
    }
    return state;
  }

  /** The next peak: a little different each time, so that nothing can be worked out beforehand. */
  private double next() {
    peak = peak > 35e3 ? 30e3 : peak + 7;
    return peak;
  }

  /** A saturating charge of a magnet that was knocked down. */
  @Benchmark
  public double chargeToSaturation() {
    MagnetState after = model.afterPulse(knockedDown, new FieldStrength(400e3 + next()));
    return model.polarisationTesla(after);
  }

  /** The first knock-down of a charged magnet. */
  @Benchmark
  public double firstKnockDown() {
    return model.polarisationTesla(model.afterPulse(charged, new FieldStrength(-next())));
  }

  /** The one after twenty growing ones. */
  @Benchmark
  public double laterKnockDown() {
    return model.polarisationTesla(model.afterPulse(knockedDown, new FieldStrength(-next())));
  }

  /** A weaker pulse than the last, which leads back to where it began. */
  @Benchmark
  public double weakerPulse() {
    return model.polarisationTesla(model.afterPulse(knockedDown, new FieldStrength(-0.5 * next())));
  }

  /** The plain way, one pulse. */
  @Benchmark
  public double relaysOneByOne() {
    return relays.pulse(-next());
  }

  /** A rod's field off its axis. */
  @Benchmark
  public Flux fieldOfACylinder() {
    return cylinder.at(new Place(elsewhere(), 0.4e-3, 9.6e-3));
  }

  /** A bar's field off its axis. */
  @Benchmark
  public Flux fieldOfABlock() {
    return block.at(new Place(elsewhere(), 0.4e-3, 6.6e-3));
  }

  private double elsewhere() {
    x = x > 2e-3 ? 1.3e-3 : x + 1e-7;
    return x;
  }
}
