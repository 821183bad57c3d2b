package lodestep.config;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalLong;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;

/** Reads [jig] and refuses a jig that could run down by itself, or could not do its work. */
final class JigReader {

  /** A steeper screw can be pushed back by the magnets when its motor is off. */
  private static final double PITCH_MM_MAX = 2.0;

  private static final double TRAVEL_MM_MAX = 300;
  private static final int STEPS_MAX = 51_200;

  /** Coarser steps move the field by more than a reading can tell. */
  private static final double STEP_MM_MAX = 0.02;

  /** The switch closes within a few tenths; at the park position it must be seen closed. */
  private static final double PARK_MM_MIN = 1.0;

  /** A guard is shut, but the carriage ends against printed stops. */
  private static final double SPEED_MAX = 10.0;

  /** A usual magnet takes three or four strokes, its proof among them; twice that. */
  private static final int STROKES_MIN = 8;

  private static final double GAP_MM_MIN = 1.0;
  private static final double REMANENCE_TESLA_MAX = 1.6;
  private static final Temperature HOTTEST = Temperature.ofDegC(80);

  private final Section section;

  private JigReader(Section section) {
    this.section = section;
  }

  static Optional<JigConfig> read(Section section) {
    return new JigReader(section).read();
  }

  private Optional<JigConfig> read() {
    Optional<Length> pitch = length("pitch", "2.0 mm", 0.1, PITCH_MM_MAX);
    OptionalLong steps = section.whole("steps_per_turn", 20, STEPS_MAX);
    Optional<Length> travel = length("travel", "78 mm", 5, TRAVEL_MM_MAX);
    Optional<Length> park = length("park", "2.0 mm", PARK_MM_MIN, TRAVEL_MM_MAX);
    Optional<Length> height = length("height_at_home", "90 mm", 10, 2 * TRAVEL_MM_MAX);
    Optional<Length> gap = length("smallest_gap", "3.0 mm", GAP_MM_MIN, TRAVEL_MM_MAX);
    Optional<Double> speed = section.positive("speed_mm_per_second", "8");
    Optional<Length> budget = section.quantity("travel_budget", "6 m", Length::parse);
    Optional<JigConfig.Opposing> magnet = magnet();
    Optional<Temperature> hottest =
        section.quantity("highest_temperature", "60 °C", Temperature::parse);
    speed.ifPresent(this::checkSpeed);
    hottest.ifPresent(
        given ->
            CoilReader.checkTemperature(
                section, given, HOTTEST, "; a hot magnet loses strength for good"));
    if (!section.end()) {
      return Optional.empty();
    }
    JigConfig jig =
        new JigConfig(
            new JigConfig.Screw(
                pitch.orElseThrow(),
                (int) steps.orElseThrow(),
                travel.orElseThrow(),
                park.orElseThrow(),
                speed.orElseThrow()),
            magnet.orElseThrow(),
            height.orElseThrow(),
            gap.orElseThrow(),
            budget.orElseThrow(),
            hottest.orElseThrow());
    checkTogether(jig);
    return section.end() ? Optional.of(jig) : Optional.empty();
  }

  private Optional<JigConfig.Opposing> magnet() {
    Optional<Length> diameter = length("magnet_diameter", "20 mm", 2, 200);
    Optional<Length> length = length("magnet_length", "12 mm", 1, 200);
    Optional<FluxDensity> remanence =
        section.quantity("magnet_remanence", "1.28 T", FluxDensity::parse);
    Optional<String> face = section.word("magnet_faces_work", List.of("north", "south"));
    if (remanence.isPresent()
        && !(remanence.get().tesla() > 0 && remanence.get().tesla() <= REMANENCE_TESLA_MAX)) {
      section.refuse(
          "magnet_remanence",
          said(
              "'magnet_remanence' must be above zero and at most %.1f T; it stands in the data"
                  + " sheet of the magnet's material",
              REMANENCE_TESLA_MAX));
    }
    return diameter.isPresent() && length.isPresent() && remanence.isPresent() && face.isPresent()
        ? Optional.of(
            new JigConfig.Opposing(
                diameter.get(), length.get(), remanence.get(), face.get().equals("north")))
        : Optional.empty();
  }

  private Optional<Length> length(String key, String example, double leastMm, double mostMm) {
    Optional<Length> length = section.quantity(key, example, Length::parse);
    if (length.isPresent() && !(length.get().mm() >= leastMm && length.get().mm() <= mostMm)) {
      section.refuse(
          key,
          key.equals("pitch")
              ? said(
                  "'pitch' is %s; it must be %.1f to %.1f mm a turn, as a steeper screw does not"
                      + " hold when its motor is off",
                  length.get().written(), leastMm, mostMm)
              : said(
                  "'%s' is %s; it must be %s to %s",
                  key,
                  length.get().written(),
                  Length.ofMm(leastMm).written(),
                  Length.ofMm(mostMm).written()));
    }
    return length;
  }

  private void checkSpeed(double speed) {
    if (speed > SPEED_MAX) {
      section.refuse(
          "speed_mm_per_second",
          said("'speed_mm_per_second' must be at most %.0f, not %.1f", SPEED_MAX, speed));
    }
  }

  private void checkTogether(JigConfig jig) {
    JigConfig.Screw screw = jig.screw();
    if (screw.stepMetres() * 1e3 > STEP_MM_MAX) {
      section.refuse(
          "steps_per_turn",
          said(
              "a step would be %.3f mm; it must be at most %.2f mm, so take more steps a turn",
              screw.stepMetres() * 1e3, STEP_MM_MAX));
    }
    if (!(screw.park().metres() < screw.travel().metres() / 2)) {
      section.refuse(
          "park",
          "'park' must lie in the half of the travel next to home, away from the work; home is at"
              + " 0 mm");
    }
    if (jig.heightAtHome().metres() <= screw.travel().metres()) {
      section.refuse(
          "height_at_home",
          said(
              "the far switch at %s lies below the nest's floor, %s under home; the opposing"
                  + " magnet would strike it",
              screw.travel().written(), jig.heightAtHome().written()));
    }
    if (jig.strokesMax() < STROKES_MIN) {
      section.refuse(
          "travel_budget",
          said(
              "'travel_budget' is %s and allows %d strokes of %s there and back; it must allow"
                  + " %d, which is %s: four for a usual magnet with its proof, and as many after a"
                  + " new charge",
              jig.budget().written(),
              jig.strokesMax(),
              screw.travel().written(),
              STROKES_MIN,
              new Length(2 * STROKES_MIN * screw.travel().metres()).written()));
    }
  }

  private static String said(String format, Object... figures) {
    return String.format(Locale.ROOT, format, figures);
  }
}
