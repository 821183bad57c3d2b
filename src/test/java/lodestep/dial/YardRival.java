package lodestep.dial;

import java.util.ArrayList;
import java.util.List;
import lodestep.measure.SettledReading;

/** A way to choose the next reverse peak that ours is compared with. Mutable, one magnet each. */
interface YardRival {

  /** The magnet has been charged and read. */
  void charged(SettledReading reading);

  /** The next peak in A/m towards a target with this accepted half width, both in tesla. */
  double next(double target, double half);

  /** What the magnet read after a peak told so. */
  void knockedDown(double told, SettledReading reading);

  /** Where the magnet stands by all readings, in tesla. */
  double level();

  /** The largest peak so far grows at least by this. */
  double GROWTH = 1.001;

  /** Rivals that know the nominal curve and this magnet's points. */
  abstract class ByPoints implements YardRival {
    final YardKind kind;
    List<Progress.Point> points = List.of();
    int charges;

    ByPoints(YardKind kind) {
      this.kind = kind;
    }

    @Override
    public void charged(SettledReading reading) {
      points = List.of(new Progress.Point(0, reading.value().tesla()));
      charges++;
    }

    @Override
    public void knockedDown(double told, SettledReading reading) {
      List<Progress.Point> more = new ArrayList<>(points);
      more.add(new Progress.Point(Math.max(told, last().fieldAperM()), reading.value().tesla()));
      points = more;
    }

    @Override
    public double level() {
      return last().levelTesla();
    }

    Progress.Point last() {
      return points.get(points.size() - 1);
    }

    double nominal(double level) {
      return kind.family().nominal().fieldFor(level / points.get(0).levelTesla());
    }
  }

  /** Half of the remaining way each time, on the nominal curve held to the last point. */
  final class Halving extends ByPoints {
    private static final double CAREFUL = 0.85;
    private static final double MOVED = 0.985;

    Halving(YardKind kind) {
      super(kind);
    }

    @Override
    public double next(double target, double half) {
      double level = level();
      double aim = level - target < 2 * half ? target : target + 0.5 * (level - target);
      boolean moved = level < MOVED * points.get(0).levelTesla();
      double scale = moved ? last().fieldAperM() / nominal(level) : CAREFUL;
      double step = scale * (nominal(aim) - nominal(level));
      return Math.max(last().fieldAperM() + step, last().fieldAperM() * GROWTH);
    }
  }

  /** The secant in the nominal curve's own field, held back while little is known. */
  final class Secant extends ByPoints {
    private static final double ABOVE = 0.3;
    private static final double FIRST_PART = 0.65;
    private static final double SECOND_PART = 0.9;
    private static final double CARE = 0.93;
    private static final double SCALE_MAX = 1.6;
    private static final double TELLING = 0.01;

    Secant(YardKind kind) {
      super(kind);
    }

    @Override
    public double next(double target, double half) {
      double lost = 1 - level() / points.get(0).levelTesla();
      boolean telling = lost > TELLING;
      double part = !telling ? FIRST_PART : points.size() < 3 ? SECOND_PART : 1;
      double way = part * Math.pow(CARE, charges - 1) * (level() - target - ABOVE * half);
      double aim = Math.min(level(), level() - way);
      double step = (telling ? scale() : 1) * (nominal(aim) - nominal(level()));
      return Math.max(last().fieldAperM() + step, last().fieldAperM() * GROWTH);
    }

    private double scale() {
      Progress.Point before = points.get(points.size() - 2);
      double chord = last().fieldAperM() / nominal(level());
      double run = nominal(level()) - nominal(before.levelTesla());
      double secant = run > 0 ? (last().fieldAperM() - before.fieldAperM()) / run : chord;
      double near = Math.max(chord / SCALE_MAX, Math.min(chord * SCALE_MAX, secant));
      return Math.max(1 / SCALE_MAX, Math.min(SCALE_MAX, near));
    }
  }

  /** Knows everything of the magnet; its pulses err all the same. */
  final class AllKnowing implements YardRival {
    private static final int HALVINGS = 60;

    private final YardRig rig;
    private final YardPlant.Magnet magnet;
    private final double reach;
    private double told;

    AllKnowing(YardRig rig, YardPlant.Magnet magnet, double reach) {
      this.rig = rig;
      this.magnet = magnet;
      this.reach = reach;
    }

    @Override
    public void charged(SettledReading reading) {
      told = 0;
    }

    @Override
    public double next(double target, double half) {
      double low = 0;
      double high = reach;
      for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (low + high);
        boolean leavesMore = magnet.applyAsDouble(middle) > target;
        low = leavesMore ? middle : low;
        high = leavesMore ? high : middle;
      }
      return Math.max(low, told * GROWTH);
    }

    @Override
    public void knockedDown(double field, SettledReading reading) {
      told = field;
    }

    @Override
    public double level() {
      return rig.truth();
    }
  }
}
