package lodestep.bench;

import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lodestep.measure.HandGaugeRelation;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;

/**
 * What another gauge reads, as a person typed it. Any thread, immutable.
 *
 * @param value signed as far as the person said the pole
 * @param pole "north" or "south"; empty if the person did not say it
 * @param gauge what the person calls the other gauge
 * @param typed the reading, letter by letter
 */
public record TypedReading(FluxDensity value, String pole, String gauge, String typed) {

  private static final int GAUGE_CHARACTERS_MAX = 40;

  /** Below this both gauges' zeros are in a reading, and a pole says little. */
  private static final FluxDensity LEAST = FluxDensity.ofGauss(20);

  /** The same face reads half as much a millimetre further off: two gauges seldom differ more. */
  private static final double UNRELATED_FACTOR = 2;

  /** A slip of the pen is more than this part of the reading. Common practice, no source. */
  private static final double RELATED_PART = 0.05;

  private static final double RELATED_SCATTERS = 4;

  /** What the zeros of two gauges may differ by. */
  private static final double ZEROS_TESLA = 5e-4;

  private static final Pattern FORM =
      Pattern.compile("(?i)(.+?)(?:\\s+(north|south))?(?:\\s+by\\s+(.+))?");

  /**
   * Reads {@code 380 G}, {@code 38 mT south} or {@code 380 G by shelf gauge}.
   *
   * @param usualGauge the gauge meant when the text names none; may be empty
   * @throws IllegalArgumentException with one sentence that says what is wrong and what to write
   */
  public static TypedReading read(String text, String usualGauge) {
    Matcher form = FORM.matcher(text.strip());
    if (!form.matches()) {
      throw new IllegalArgumentException("no reading; write it like 380 G south by shelf gauge");
    }
    FluxDensity value = FluxDensity.parse(form.group(1));
    String typed = text.strip().replaceFirst("(?i)\\s+by\\s+.*$", "");
    String pole = form.group(2) == null ? "" : form.group(2).toLowerCase(Locale.ROOT);
    boolean signed = form.group(1).matches("[-+\u2212].*");
    if (signed && !pole.isEmpty()) {
      throw new IllegalArgumentException(
          "'" + text + "' has a sign and a pole; write one of the two");
    }
    String gauge = form.group(3) == null ? usualGauge.strip() : form.group(3);
    if (gauge.isEmpty() || gauge.length() > GAUGE_CHARACTERS_MAX) {
      throw new IllegalArgumentException(
          "whose reading is '"
              + text
              + "'? Name the gauge in 1 to "
              + GAUGE_CHARACTERS_MAX
              + " letters: 380 G by shelf gauge");
    }
    if (signed) {
      String said = value.tesla() < 0 ? "south" : "north";
      return new TypedReading(value, said, gauge, typed);
    }
    FluxDensity signedValue =
        pole.equals("south") ? new FluxDensity(-value.magnitude().tesla()) : value;
    return new TypedReading(signedValue, pole, gauge, typed);
  }

  /**
   * What is odd about it beside what the rig read of the same magnet last; empty if nothing is.
   *
   * @param own what the rig read, signed
   * @param relation of that gauge to the nest for magnets of this kind, if it is on record
   */
  public Optional<String> doubt(FluxDensity own, Optional<HandGaugeRelation> relation) {
    boolean telling = own.magnitude().compareTo(LEAST) >= 0;
    boolean turned = !pole.isEmpty() && own.tesla() * value.tesla() < 0;
    if (telling && turned && value.magnitude().compareTo(LEAST) >= 0) {
      return Optional.of("its pole is not the one the rig read, " + said(own));
    }
    double expected = own.magnitude().tesla() * relation.map(HandGaugeRelation::ratio).orElse(1.0);
    double size = value.magnitude().tesla();
    double factor =
        relation
            .filter(known -> known.holdsFor(new FluxDensity(expected)))
            .map(known -> 1 + Math.max(RELATED_PART, RELATED_SCATTERS * known.scatter()))
            .orElse(UNRELATED_FACTOR);
    double spare = relation.isPresent() ? ZEROS_TESLA : LEAST.tesla();
    boolean far = size > factor * expected + spare || size + spare < expected / factor;
    return far
        ? Optional.of(
            relation.isPresent()
                ? "by its relation to the nest it is to read about "
                    + new FluxDensity(expected).inGauss()
                    + " where the rig read "
                    + said(own)
                : "it is far from what the rig read, " + said(own))
        : Optional.empty();
  }

  private static String said(FluxDensity own) {
    return own.magnitude().inGauss() + (own.tesla() < 0 ? " south" : " north");
  }

  /** Its entry in the record. */
  public LedgerEvent entry(long magnet) {
    return new LedgerEvent.ReadingTyped(magnet, value.microTesla(), pole, gauge, typed);
  }
}
