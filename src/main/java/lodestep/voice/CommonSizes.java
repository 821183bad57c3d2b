package lodestep.voice;

import java.util.List;

/** Sizes that many shops have, to be copied; any other can be typed. Common practice, no source. */
public final class CommonSizes {

  private CommonSizes() {}

  /**
   * Sizes of one kind.
   *
   * @param what in words
   * @param shape they are of, where it is a magnet; else empty
   * @param field they go with
   */
  public record Kind(String what, String shape, Said field, List<String> sizes) {
    public Kind {
      sizes = List.copyOf(sizes);
    }
  }

  /** All of them. */
  public static List<Kind> all() {
    return List.of(
        new Kind(
            "rods",
            "rod",
            Said.SIZE,
            List.of("4.6 x 15.5 mm", "4.9 x 16.5 mm", "5.0 x 14 mm", "5.1 x 18 mm", "6.4 x 16 mm")),
        new Kind(
            "bars",
            "bar",
            Said.SIZE,
            List.of("57 x 11 x 3.1 mm", "58 x 11.5 x 3.4 mm", "60 x 10 x 4 mm", "55 x 6.4 x 3 mm")),
        of("pole pieces", Said.POLES, "4.6 x 13 mm", "4.9 x 15 mm", "5.2 x 13 mm"),
        of("keepers", Said.KEEPER, "57 x 6 x 4 mm", "60 x 6.4 x 3.2 mm"),
        of("pitch", Said.PITCH, "9.8 mm", "10.2 mm", "10.5 mm", "17 mm"),
        of("scale lengths", Said.SCALE, "610 mm", "640 mm", "655 mm", "865 mm"),
        of(
            "strings",
            Said.STRINGS,
            StringSet.USUAL,
            "0.23 E4; 0.28 B3; 0.41 G3; 0.61/0.36 D3; 0.81/0.38 A2; 1.07/0.43 E2",
            "0.28 E4; 0.36 B3; 0.46 G3; 0.71/0.38 D3; 0.97/0.43 A2; 1.25/0.48 E2",
            "1.14/0.56 G2; 1.65/0.71 D2; 2.03/0.86 A1; 2.67/1.02 E1"));
  }

  private static Kind of(String what, Said field, String... sizes) {
    return new Kind(what, "", field, List.of(sizes));
  }
}
