package lodestep.voice;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import lodestep.magnet.Place;
import lodestep.magnet.PlacedBar;
import lodestep.magnet.Shape;
import lodestep.magnet.SteelBody;
import lodestep.magnet.SteelCircuit;
import lodestep.quantity.Length;

/**
 * Pole pieces of soft steel about a bar, one under each string. Any thread, immutable.
 *
 * @param arranged where the bar lies
 * @param diameter of a pole piece, 1 to 15 mm
 * @param length of it, 2 to 60 mm
 * @param pitch from pole to pole, more than the diameter
 * @param count poles in a row, 1 to 12
 * @param keeper a steel bar that the poles go through, of the second row where there are two
 */
public record PolePieces(
    Arranged arranged,
    Length diameter,
    Length length,
    Length pitch,
    int count,
    Optional<Keeper> keeper) {

  /** Between parts that lie against one another; common practice, no source. */
  private static final double GAP = 0.2e-3;

  /** Where the bar lies. */
  public enum Arranged {
    /** One bar, through its width, between two rows of opposite pole. */
    BETWEEN_ROWS("between two rows"),
    /** Two bars, through their width, like poles towards the one row between them. */
    EITHER_SIDE("either side of one row"),
    /** One bar, through its thickness, under one row. */
    UNDER("under one row");

    private final String words;

    Arranged(String words) {
      this.words = words;
    }

    /** As a person writes it. */
    public String words() {
      return words;
    }

    /**
     * Reads it.
     *
     * @throws IllegalArgumentException naming all there are
     */
    public static Arranged read(String text) {
      String plain = text.strip().toLowerCase(Locale.ROOT);
      return Arrays.stream(values())
          .filter(each -> each.words.equals(plain))
          .findFirst()
          .orElseThrow(
              () ->
                  new IllegalArgumentException(
                      "a bar lies "
                          + Arrays.stream(values())
                              .map(each -> "\"" + each.words + "\"")
                              .collect(Collectors.joining(", "))
                          + "; not '"
                          + text
                          + "'"));
    }
  }

  /** A keeper: along the row, along the strings, and its height. */
  public record Keeper(Length length, Length width, Length height) {
    /**
     * @throws IllegalArgumentException naming the size that no keeper has
     */
    public Keeper {
      require("keeper's length", length, 2, 150);
      require("keeper's width", width, 1, 25);
      require("keeper's height", height, 0.5, 15);
    }
  }

  /**
   * @throws IllegalArgumentException naming the size that no pole piece has
   */
  public PolePieces {
    require("pole piece's diameter", diameter, 1, 15);
    require("pole piece's length", length, 2, 60);
    require("pitch of the poles", pitch, 2, 60);
    if (pitch.compareTo(diameter) <= 0) {
      throw new IllegalArgumentException(
          "poles of " + diameter.written() + " do not go " + pitch.written() + " apart");
    }
    if (count < 1 || count > 12) {
      throw new IllegalArgumentException("a row has 1 to 12 poles, not " + count);
    }
    if (arranged == Arranged.UNDER && keeper.isPresent()) {
      throw new IllegalArgumentException(
          "a keeper goes with a bar between two rows or either side of one; under one row leave it"
              + " out");
    }
    keeper.ifPresent(
        steel -> {
          if (steel.width().compareTo(diameter) < 0) {
            throw new IllegalArgumentException(
                "poles of "
                    + diameter.written()
                    + " do not go through a keeper of "
                    + steel.width().written());
          }
        });
  }

  /** The middle of the top of a pole of the first row, in the pickup's own frame. */
  public Place top(Shape.Bar bar, int pole) {
    return post(bar, rowX(bar, false), pole).top();
  }

  /**
   * The bars between their steel, for one tesla of a bar by itself; some tenths of a second.
   *
   * @param bar charged as the arrangement wants it
   * @param susceptibility of the bar along its recoil line
   * @throws IllegalArgumentException if the bar is charged another way
   */
  public SteelCircuit about(Shape.Bar bar, double susceptibility) {
    Shape.Axis axis =
        arranged == Arranged.UNDER ? Shape.Axis.THROUGH_THICKNESS : Shape.Axis.THROUGH_WIDTH;
    if (bar.axis() != axis) {
      throw new IllegalArgumentException(
          "a bar "
              + arranged.words()
              + " is charged "
              + axis.words()
              + ", not "
              + bar.axis().words());
    }
    List<List<SteelBody>> touching = new ArrayList<>();
    boolean twoRows = arranged == Arranged.BETWEEN_ROWS;
    if (twoRows) {
      row(touching, bar, rowX(bar, false), Optional.empty());
    }
    row(touching, bar, twoRows ? -rowX(bar, true) : 0, keeper);
    return SteelCircuit.of(bars(bar), touching, susceptibility);
  }

  private List<PlacedBar> bars(Shape.Bar bar) {
    double x = 0.5 * bar.width().metres();
    double y = 0.5 * bar.length().metres();
    double z = 0.5 * bar.thickness().metres();
    if (arranged != Arranged.EITHER_SIDE) {
      boolean upright = arranged == Arranged.UNDER;
      return List.of(new PlacedBar(new Place(0, 0, 0), x, y, z, upright, 1));
    }
    double away = GAP + x + halfRow();
    return List.of(
        new PlacedBar(new Place(away, 0, 0), x, y, z, false, -1),
        new PlacedBar(new Place(-away, 0, 0), x, y, z, false, 1));
  }

  private double halfRow() {
    return 0.5 * keeper.map(Keeper::width).orElse(diameter).metres();
  }

  private double rowX(Shape.Bar bar, boolean kept) {
    if (arranged != Arranged.BETWEEN_ROWS) {
      return 0;
    }
    return 0.5 * bar.width().metres() + GAP + (kept ? halfRow() : 0.5 * diameter.metres());
  }

  private void row(
      List<List<SteelBody>> touching, Shape.Bar bar, double x, Optional<Keeper> through) {
    List<SteelBody> posts = new ArrayList<>();
    for (int pole = 0; pole < count; pole++) {
      posts.add(post(bar, x, pole));
    }
    if (through.isEmpty()) {
      posts.forEach(post -> touching.add(List.of(post)));
      return;
    }
    Keeper steel = through.get();
    posts.add(
        new SteelBody.Plate(
            new Place(x, 0, 0),
            0.5 * steel.width().metres(),
            0.5 * steel.length().metres(),
            0.5 * steel.height().metres()));
    touching.add(posts);
  }

  private SteelBody.Post post(Shape.Bar bar, double x, int pole) {
    double half = 0.5 * bar.thickness().metres();
    double foot = arranged == Arranged.UNDER ? half + GAP : -half;
    double y = (pole - 0.5 * (count - 1)) * pitch.metres();
    return new SteelBody.Post(new Place(x, y, foot), 0.5 * diameter.metres(), length.metres());
  }

  private static void require(String which, Length size, double leastMm, double mostMm) {
    if (!(size.mm() >= leastMm && size.mm() <= mostMm)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "the %s of %s is none that is made: %s to %s mm",
              which,
              size.written(),
              leastMm,
              mostMm));
    }
  }
}
