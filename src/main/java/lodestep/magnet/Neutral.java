package lodestep.magnet;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * Brings a magnet of a kind to nothing with few pulses: first against what it reads, by the field
 * at which a magnet of its kind is left with nothing; and from what that has left, by a weaker one
 * of the other sign, since the memory of the stronger pulse stays while the weaker one comes back
 * along a smaller loop. Any thread, immutable.
 *
 * <p>While the pulses go one way, the magnet's own readings tell how much harder it is than the
 * nominal one. Later they bracket: a pulse that is remembered would lead back to what it left, so
 * that one of its sign between it and nothing is aimed between two readings that are known, and the
 * model gives no more than the form of the way between them.
 *
 * <p>The magnet is left with nothing on one side: a field nearly as strong as the last pulse's
 * moves it again. It is taken as charged and knocked down to what it read as found, whatever was
 * done to it; if it was otherwise, more pulses are needed.
 */
public final class Neutral {

  /** No lot is so far from its alloy's coercivity. */
  private static final double HARDER_MAX = 1.8;

  private static final double ANSWER_MAX = 4;

  private static final double BEND_MAX = 3;

  /** A part nearer to nothing or to the whole than this tells nothing of the form between. */
  private static final double CERTAIN = 0.02;

  /** Reverse peaks looked at, in coercivities of the nominal loop: beyond, any has turned over. */
  private static final double REACH = 2.5;

  private static final int HALVINGS = 36;

  private final MagnetModel model;
  private final FaceField face;

  private Neutral(MagnetModel model, FaceField face) {
    this.model = model;
    this.face = face;
  }

  /**
   * Of a nominal magnet of this kind.
   *
   * @param standOff at which it is read
   */
  public static Neutral of(FaceModel kind, Length standOff) {
    return new Neutral(kind.model(), kind.at(standOff));
  }

  /**
   * A pulse and what was read after it.
   *
   * @param field as delivered; positive drives the gauge's face north
   * @param read signed
   */
  public record Tried(FieldStrength field, FluxDensity read) {}

  /**
   * The next pulse, which is expected to leave nothing.
   *
   * @param asFound read before the first pulse, signed, not zero
   * @param tried pulses so far, the oldest first
   * @param most the strongest field there is of either sign
   * @param harder what other magnets of the kind have shown; 1 if nothing
   * @return its field, signed; empty if no pulse of either sign is expected to leave nothing
   */
  public Optional<FieldStrength> next(
      FluxDensity asFound, List<Tried> tried, FieldStrength most, double harder) {
    double sign = asFound.tesla() < 0 ? -1 : 1;
    return course(asFound, tried, harder)
        .toNothing(most.amperesPerMetre())
        .map(field -> new FieldStrength(sign * field));
  }

  /**
   * How much harder than the nominal magnet this one has shown itself to be.
   *
   * @param harder what other magnets of the kind have shown; 1 if nothing
   */
  public double harder(FluxDensity asFound, List<Tried> tried, double harder) {
    return course(asFound, tried, harder).harder;
  }

  private Course course(FluxDensity asFound, List<Tried> tried, double harder) {
    double sign = asFound.tesla() < 0 ? -1 : 1;
    Course course = new Course(sign * asFound.tesla(), harder);
    for (Tried pulse : tried) {
      course.went(sign * pulse.field().amperesPerMetre(), sign * pulse.read().tesla());
    }
    return course;
  }

  /** A pulse that is remembered still, and what it left: it would leave the same again. */
  private record Remembered(double field, double left) {}

  /** One magnet's way, turned so that it read north as found. Confined to one call. */
  private final class Course {

    private final double found;
    private final List<Remembered> turns = new ArrayList<>();
    private double harder;
    private double strength;
    private MagnetModel own;
    private MagnetState state;
    private double answer = 1;
    private double bend = 1;
    private double read;
    private double strongest;
    private double lastField;
    private boolean oneWay = true;

    Course(double found, double harder) {
      this.found = found;
      this.harder = harder;
      this.own = model;
      this.state = model.charged();
      this.read = found;
      begin(harder);
    }

    /** As found, if it were so much harder than the nominal one. */
    private void begin(double factor) {
      own = new MagnetModel(model.loop().scaled(1, factor), model.demagnetisingFactor());
      MagnetState charged = own.charged();
      strength = 1;
      strength = Math.max(1, found / tesla(charged));
      if (found >= tesla(charged)) {
        state = charged;
        return;
      }
      double reach = REACH * own.loop().centreAmperesPerMetre();
      double peak =
          falling(field -> tesla(own.afterPulse(charged, new FieldStrength(-field))), found, reach);
      state = own.afterPulse(charged, new FieldStrength(-peak));
    }

    void went(double field, double left) {
      oneWay &= field < 0;
      if (oneWay) {
        strongest = Math.max(strongest, -field);
        harder = fitted(left);
        begin(harder);
        state = own.afterPulse(state, new FieldStrength(-strongest));
        oneWay = left > 0;
      } else {
        bend(field, left);
        MagnetState after = own.afterPulse(state, new FieldStrength(field));
        double expected = tesla(after) - tesla(state);
        boolean onward = field * lastField > 0;
        double ratio = expected == 0 ? 1 : (left - read) / expected;
        answer = onward ? Math.max(1 / ANSWER_MAX, Math.min(ANSWER_MAX, ratio)) : 1;
        state = after;
      }
      remember(new Remembered(field, left));
      lastField = field;
      read = left;
    }

    /** A pulse wipes out the weaker ones of its own sign, and all that came after them. */
    private void remember(Remembered pulse) {
      for (int i = 0; i < turns.size(); i++) {
        double weaker = turns.get(i).field() / pulse.field();
        if (weaker > 0 && weaker <= 1) {
          turns.subList(i, turns.size()).clear();
        }
      }
      turns.add(pulse);
    }

    /** How hard a magnet is that the strongest pulse leaves with this. */
    private double fitted(double left) {
      return 1
          / falling(
              softer -> {
                begin(1 / softer);
                return tesla(own.afterPulse(state, new FieldStrength(-strongest)));
              },
              left,
              1 / HARDER_MAX,
              HARDER_MAX);
    }

    /** How the magnet's way between two known readings bends otherwise than the model's. */
    private void bend(double field, double left) {
      Optional<Remembered> beyond = beyond(Math.signum(field));
      if (beyond.isEmpty()) {
        return;
      }
      double wanted = change(field) / change(beyond.get().field());
      double went = (left - read) / (beyond.get().left() - read);
      if (wanted > CERTAIN && wanted < 1 - CERTAIN && went > CERTAIN && went < 1 - CERTAIN) {
        double bent = Math.log(went) / Math.log(wanted);
        bend = Math.max(1 / BEND_MAX, Math.min(BEND_MAX, bent));
      }
    }

    /** The weakest remembered pulse of a sign that would lead back beyond nothing. */
    private Optional<Remembered> beyond(double way) {
      return turns.stream()
          .filter(turn -> turn.field() * way > 0 && turn.left() * way > 0)
          .reduce((one, smaller) -> smaller);
    }

    Optional<Double> toNothing(double most) {
      double way = read > 0 ? -1 : 1;
      Optional<Remembered> beyond = beyond(way);
      if (beyond.isPresent()) {
        return Optional.of(way * between(way, beyond.get()));
      }
      DoubleUnaryOperator left = field -> read + answer * change(way * field);
      return way * left.applyAsDouble(most) < 0
          ? Optional.empty()
          : Optional.of(way * falling(field -> -way * left.applyAsDouble(field), 0, most));
    }

    /** Between no pulse and a remembered one, which would lead back beyond nothing. */
    private double between(double way, Remembered beyond) {
      double most = Math.abs(beyond.field());
      double whole = change(beyond.field());
      double part = Math.pow(read / (read - beyond.left()), 1 / bend);
      return whole == 0
          ? part * most
          : falling(field -> part - change(way * field) / whole, 0, most);
    }

    private double change(double field) {
      return tesla(own.afterPulse(state, new FieldStrength(field))) - tesla(state);
    }

    private double tesla(MagnetState of) {
      return strength * face.tesla(own.polarisationTesla(of));
    }
  }

  private static double falling(DoubleUnaryOperator of, double wanted, double most) {
    return falling(of, wanted, 0, most);
  }

  /** Where a falling function has this value, or the end that is nearest to it. */
  private static double falling(DoubleUnaryOperator of, double wanted, double least, double most) {
    double low = least;
    double high = most;
    for (int i = 0; i < HALVINGS; i++) {
      double middle = 0.5 * (low + high);
      boolean above = of.applyAsDouble(middle) > wanted;
      low = above ? middle : low;
      high = above ? high : middle;
    }
    return 0.5 * (low + high);
  }
}
