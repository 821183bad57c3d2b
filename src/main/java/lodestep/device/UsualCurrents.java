package lodestep.device;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * What the rig's coils usually carry, and a coil that carried something else. A coil whose turns
 * are shorted has less resistance and inductance, so that the same bank drives more current through
 * it; a terminal that has worked loose lets through less. Pure; any thread, immutable.
 *
 * <p>What a coil usually carries is the median of the first {@link #ENOUGH} pulses in a row in one
 * range that agree with one another, over what its circuit's figures make: those figures need not
 * be good, and heat and voltage drop out. On the virtual rig pulses agree to 0.05 per cent. A
 * single odd pulse does not move a median of five; five in a row that are odd alike are what the
 * coil is.
 *
 * @param each what is known of a coil in a range
 * @param off the newest pulse that was not as usual, until a person has seen to its coil
 */
public record UsualCurrents(Map<Carried.Range, Usual> each, Optional<Off> off) {

  /** So many pulses in a row tell what is usual. */
  public static final int ENOUGH = 5;

  /** A peak that is off by more than this part is no drift; starting value. */
  public static final double OFF_BY = 0.08;

  /** Nothing has been carried yet. */
  public static final UsualCurrents UNKNOWN = new UsualCurrents(Map.of(), Optional.empty());

  public UsualCurrents {
    each = Map.copyOf(each);
  }

  /**
   * What is known of a coil in a range.
   *
   * @param ratios of the pulses that tell what is usual, at most {@link #ENOUGH}
   * @param offBefore whether the newest pulse was off, and a person has seen to it since
   */
  public record Usual(List<Double> ratios, boolean offBefore) {
    public Usual {
      ratios = List.copyOf(ratios);
    }

    private boolean known() {
      return ratios.size() == ENOUGH;
    }

    private double part(double ratio) {
      return ratio / Medians.of(ratios) - 1;
    }
  }

  /**
   * A pulse that was not as usual.
   *
   * @param part by how much it was more than usual; below zero when it was less
   * @param still whether the pulse before was off too, and a person has seen to the coil in between
   */
  public record Off(Carried carried, double part, boolean still) {}

  /** With one more delivered pulse. One that is off teaches nothing. */
  public UsualCurrents with(Carried carried) {
    Usual usual = each.getOrDefault(carried.range(), new Usual(List.of(), false));
    boolean agrees = usual.ratios().isEmpty() || Math.abs(usual.part(carried.ratio())) <= OFF_BY;
    if (!usual.known()) {
      List<Double> ratios = new ArrayList<>(agrees ? usual.ratios() : List.of());
      ratios.add(carried.ratio());
      return new UsualCurrents(knowing(carried, new Usual(ratios, false)), off);
    }
    if (agrees) {
      return new UsualCurrents(knowing(carried, new Usual(usual.ratios(), false)), off);
    }
    Off found = new Off(carried, usual.part(carried.ratio()), usual.offBefore());
    return new UsualCurrents(each, Optional.of(found));
  }

  private Map<Carried.Range, Usual> knowing(Carried carried, Usual usual) {
    Map<Carried.Range, Usual> more = new HashMap<>(each);
    more.put(carried.range(), usual);
    return more;
  }

  /**
   * A person has seen to the coil and says that it may go on. What was usual stays so; but where
   * the next pulse was off again and a person has seen to that too, it is the coil that is so, and
   * what is usual is learned anew.
   */
  public UsualCurrents seenTo() {
    if (off.isEmpty()) {
      return this;
    }
    Carried carried = off.get().carried();
    Usual before = each.getOrDefault(carried.range(), new Usual(List.of(), false));
    Usual now =
        off.get().still()
            ? new Usual(List.of(carried.ratio()), false)
            : new Usual(before.ratios(), true);
    return new UsualCurrents(knowing(carried, now), Optional.empty());
  }

  /** What was seen and what to do, in one sentence; empty while all is as usual. */
  public Optional<String> sentence() {
    return off.map(
        found -> {
          boolean more = found.part() > 0;
          String what =
              String.format(
                  Locale.ROOT,
                  "the %s %s %.0f %% %s current than it used to",
                  found.carried().coil(),
                  found.still() ? "still carries" : "carried",
                  100 * Math.abs(found.part()),
                  more ? "more" : "less");
          return found.still()
              ? what + "; going on takes this for usual from here on, so be sure of the coil"
              : what
                  + (more
                      ? ": turns are shorted, or another coil is fitted; measure its resistance,"
                          + " then go on"
                      : ": a terminal is loose, or another coil is fitted; see to its terminals,"
                          + " then go on");
        });
  }
}
