package lodestep.soak;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.config.JigConfig;
import lodestep.port.ActEvent;

/** Rules of the reverse jig's carriage. */
final class JigRules {

  private static final double METRES_PER_MICRO = 1e-6;

  /** So long a place that was falsified may be believed: until the next search for home. */
  private static final long BELIEVED_MS = 180_000;

  private JigRules() {}

  static List<Rule> all() {
    return List.of(
        new GoesDownOnRecord(), new StaysBetweenItsEnds(), new CoilWithTheJigParked(), new Path());
  }

  /**
   * Whether a part is broken, or was, so that the head takes a wrong place for home or does not
   * know of steps: no encoder tells it.
   */
  static boolean placeFalsified(Witness w) {
    return w.stood(HappeningKind.STEPS_LOST, BELIEVED_MS)
        || w.stood(HappeningKind.JIG_JAMMED, BELIEVED_MS)
        || w.stood(HappeningKind.DRIVER_RUNS_ON, BELIEVED_MS)
        || w.stood(HappeningKind.MOTOR_REVERSED, BELIEVED_MS)
        || w.stood(HappeningKind.LIMIT_FLICKERS, "home", BELIEVED_MS)
        || w.stood(HappeningKind.LIMIT_OPEN, "home", BELIEVED_MS)
        || w.stood(HappeningKind.LIMIT_CLOSED, "home", BELIEVED_MS);
  }

  private static String place(Witness w, String detail) {
    return String.format(Locale.ROOT, "carriage at %.3f mm, %s", w.carriageMetres * 1e3, detail);
  }

  /** Over a magnet the carriage comes down for a stroke on record, and no lower than it says. */
  static final class GoesDownOnRecord extends Rule {
    /** Home is left by 2 mm at most, and the park position lies within them. */
    private static final double HOMING_METRES = 2.6e-3;

    /** Backlash, rounding, and the switch's own play. */
    private static final double LOWER_METRES = 0.3e-3;

    private String why = "";

    GoesDownOnRecord() {
      super(
          "INV-15b",
          "over a magnet the carriage comes down only on a stroke whose intent is durable, and no"
              + " lower than that says");
    }

    @Override
    boolean broken(Witness w) {
      boolean down = w.carriageMetres > w.carriageBefore;
      if (!down || !w.seated() || hidden(w)) {
        return false;
      }
      double park = w.rig.jig().orElseThrow().screw().park().metres();
      Optional<RecordFacts.Act> stroke = w.record.durableStroke();
      if (stroke.isEmpty()) {
        why = "no durable intent of a stroke; ";
        // From its park position, a stroke that waits for its intent goes nowhere.
        return w.carriageMetres > park + (w.record.strokeAwaitsDisk() ? 0 : HOMING_METRES);
      }
      long asked = ((ActEvent.StrokeIntended) stroke.get().intended).positionMicroMetres();
      why = "asked were " + asked + " um; ";
      return w.carriageMetres > asked * METRES_PER_MICRO + LOWER_METRES;
    }

    /** Nobody knows of the magnet, or of where the carriage is. */
    private static boolean hidden(Witness w) {
      return placeFalsified(w)
          || w.stood(HappeningKind.CONTACT_OPEN, "work seat", 1_000)
          || w.stood(HappeningKind.HOST_WIRE, "work seat", 1_000)
          || w.stood(HappeningKind.INPUT_FLIPPED, "work seat", 1_000);
    }

    @Override
    String detail(Witness w) {
      return why + place(w, super.detail(w));
    }
  }

  /** Behind each limit switch stands a hard stop, and the carriage does not come to it. */
  static final class StaysBetweenItsEnds extends Rule {
    /** A switch must fit the count within 0.5 mm; then 50 ms, a line and a relay at 8 mm/s. */
    private static final double BEYOND_METRES = 1.3e-3;

    StaysBetweenItsEnds() {
      super("INV-22", "the carriage never comes further than 1.3 mm beyond a limit switch");
    }

    @Override
    boolean broken(Witness w) {
      if (w.rig.jig().isEmpty()) {
        return false;
      }
      double travel = w.rig.jig().get().screw().travel().metres();
      // Where an excused part has left it, it may stand until it is sent home.
      boolean up = w.carriageMetres < w.carriageBefore;
      boolean down = w.carriageMetres > w.carriageBefore;
      boolean home = up && w.carriageMetres < -BEYOND_METRES && !blind(w, "home");
      boolean far = down && w.carriageMetres > travel + BEYOND_METRES && !blind(w, "far");
      return home || far;
    }

    /** Sent off an open switch, a motor that turns the other way goes on for 2 mm at most. */
    private static boolean blind(Witness w, String limit) {
      return w.stood(HappeningKind.LIMIT_CLOSED, limit, BELIEVED_MS)
          || w.stood(HappeningKind.MOTOR_REVERSED, 1_000);
    }

    @Override
    String detail(Witness w) {
      return place(w, super.detail(w));
    }
  }

  /** The coil's field and the jig's are never there together. */
  static final class CoilWithTheJigParked extends Rule {
    static final double PARKED_METRES = 0.3e-3;

    CoilWithTheJigParked() {
      super("INV-22b", "bank and coil are used only with the carriage at its park position");
    }

    @Override
    boolean broken(Witness w) {
      boolean used =
          (w.filling && (w.asked & Bits.FILL) != 0) || (w.firing && (w.asked & Bits.FIRE) != 0);
      return used && away(w) && !placeFalsified(w);
    }

    static boolean away(Witness w) {
      Optional<JigConfig> jig = w.rig.jig();
      return jig.isPresent()
          && Math.abs(w.carriageMetres - jig.get().screw().park().metres()) > PARKED_METRES;
    }

    @Override
    String detail(Witness w) {
      return place(w, super.detail(w));
    }
  }

  /** The driver is not left on for an endless way. */
  static final class Path extends Rule {
    /** There and back, a tenth more, and the search for home. */
    private static final double PARTS = 2.2;

    private static final double HOMING_METRES = 10e-3;

    /** What it still goes in the age of the line that shows the limit passed. */
    private static final double REACTION_METRES = 1e-3;

    private double goneMetres;

    Path() {
      super(
          "INV-22c",
          "in one switching-on of its driver the carriage goes no further than there and back, a"
              + " tenth more, and its search for home");
    }

    @Override
    boolean broken(Witness w) {
      if (w.rig.jig().isEmpty() || Double.isNaN(w.carriageBefore)) {
        return false;
      }
      goneMetres = w.motorFed ? goneMetres + Math.abs(w.carriageMetres - w.carriageBefore) : 0;
      double travel = w.rig.jig().get().screw().travel().metres();
      return goneMetres > PARTS * travel + HOMING_METRES + REACTION_METRES
          && !w.stood(HappeningKind.DRIVER_RUNS_ON, BELIEVED_MS);
    }
  }
}
