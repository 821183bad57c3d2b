package lodestep.voice;

import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import lodestep.quantity.FluxDensity;

/**
 * What the magnets under the strings are dialed to, each by itself. Any thread, immutable.
 *
 * @param each without sign, in the order in which the strings are written; at least one
 */
public record Levels(List<FluxDensity> each) {

  public Levels {
    each = List.copyOf(each);
  }

  /** The same under each of so many strings. */
  public static Levels alike(FluxDensity level, int strings) {
    return new Levels(Collections.nCopies(strings, level));
  }

  /**
   * Levels as a person writes them, one for each string, the lowest first, with semicolons between.
   *
   * @param set whose strings are meant
   * @param sign before the field's word in a refusal
   * @throws IllegalArgumentException with one sentence, if they are not as many
   */
  static Levels read(String written, StringSet set, String sign) {
    List<FluxDensity> lowestFirst =
        Arrays.stream(written.split(";", -1))
            .map(
                text -> PickupAsked.said(sign + "level", () -> FluxDensity.parse(text).magnitude()))
            .toList();
    int strings = set.tuned().size();
    if (lowestFirst.size() != strings) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%slevel: %d for %d strings; say one for all, or one for each, the lowest first",
              sign,
              lowestFirst.size(),
              strings));
    }
    List<Integer> order = set.lowestFirst();
    FluxDensity[] each = new FluxDensity[strings];
    for (int at = 0; at < strings; at++) {
      each[order.get(at)] = lowestFirst.get(at);
    }
    return new Levels(List.of(each));
  }

  /** Under this string, from 0. */
  public FluxDensity at(int string) {
    return each.get(string);
  }

  /** Whether all are the same. */
  public boolean areAlike() {
    return each.stream().distinct().count() == 1;
  }

  /** Their mean; the level itself where all are the same. */
  public FluxDensity mean() {
    return areAlike()
        ? each.get(0)
        : new FluxDensity(each.stream().mapToDouble(FluxDensity::tesla).average().orElse(0));
  }

  /** The strongest, which bears least. */
  FluxDensity most() {
    return each.stream().max(Comparator.naturalOrder()).orElseThrow();
  }

  /** For people, the lowest string first; one where all are the same. */
  public String words(StringSet set) {
    return areAlike()
        ? each.get(0).inGauss()
        : set.lowestFirst().stream()
            .map(string -> each.get(string).inGauss())
            .collect(Collectors.joining("; "));
  }
}
