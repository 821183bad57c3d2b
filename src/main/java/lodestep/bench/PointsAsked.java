package lodestep.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lodestep.magnet.Shape;
import lodestep.quantity.Length;
import lodestep.quantity.Nearest;

/**
 * Where a magnet is read by hand, and which figure counts. Any thread, immutable.
 *
 * @param points along the edge, at least one, all different
 * @param bothFaces whether the other face is read too
 * @param counts which figure counts
 */
public record PointsAsked(List<Point> points, boolean bothFaces, Counts counts) {

  /** More tell nothing more of a bar. */
  public static final int POINTS_MAX = 25;

  static final String MIDDLE = "middle";
  private static final String BOTH = "both faces";
  private static final String STRINGS = "strings face";

  private static final Pattern PART = Pattern.compile("(\\d{1,3})\\s*/\\s*(\\d{1,3})");

  /** How to write it, for refusals. */
  private static final String WRITTEN = "write it like: 1/6; middle; 5/6; both faces";

  /**
   * One point.
   *
   * @param part of the length, from the end that lies to the left, above 0 and below 1
   * @param words as they were asked
   */
  public record Point(double part, String words) {

    /** How far from the magnet's middle, in metres; to the left is below zero. */
    public double alongMetres(Shape shape) {
      return shape instanceof Shape.Bar bar ? (part - 0.5) * bar.length().metres() : 0;
    }

    private boolean isMiddle() {
      return words.equals(MIDDLE);
    }
  }

  /** Which figure counts, of the faces that count. */
  public record Counts(Figure figure, Faces faces) {

    /** In the words of a plan. */
    public String words() {
      return figure.word + faces.words;
    }
  }

  /** A figure of several readings. */
  public enum Figure {
    /** That of the middle. */
    MIDDLE("middle"),
    /** The mean of all points. */
    MEAN("mean"),
    /** The weakest. */
    LEAST("least");

    private final String word;

    Figure(String word) {
      this.word = word;
    }
  }

  /** Whose readings count. */
  public enum Faces {
    /** The face that will look at the strings. */
    STRINGS(""),
    /** The face opposite. */
    OTHER(" of the other face"),
    /** Both. */
    BOTH(" of both faces");

    private final String words;

    Faces(String words) {
      this.words = words;
    }
  }

  /**
   * @throws IllegalArgumentException with one sentence, if it contradicts itself
   */
  public PointsAsked {
    points = List.copyOf(points);
    if (points.isEmpty() || points.size() > POINTS_MAX) {
      throw new IllegalArgumentException(
          points.size() + " points; name 1 to " + POINTS_MAX + ": " + WRITTEN);
    }
    if (points.stream().map(Point::part).distinct().count() < points.size()) {
      throw new IllegalArgumentException("a point is there twice; " + WRITTEN);
    }
    if (counts.faces() != Faces.STRINGS && !bothFaces) {
      throw new IllegalArgumentException(
          "'"
              + counts.words()
              + "' cannot count, since only the strings face is read; add: both"
              + " faces");
    }
    if (counts.figure() == Figure.MIDDLE && points.stream().noneMatch(Point::isMiddle)) {
      throw new IllegalArgumentException(
          "the middle cannot count, since it is not read; add it, or let mean or least count");
    }
  }

  /** What is read of a magnet when nobody says it: a bar at three points, all on both faces. */
  public static PointsAsked usual(Shape shape) {
    return shape instanceof Shape.Bar bar && bar.axis() != Shape.Axis.ALONG_LENGTH
        ? read("1/6; middle; 5/6; both faces", "")
        : read("middle; both faces", "");
  }

  /**
   * Reads what a plan says.
   *
   * @param at for example {@code 1/6; middle; 5/6; both faces}
   * @param counts {@code middle}, {@code mean} or {@code least}, with {@code of the other face} or
   *     {@code of both faces} after it; empty is the middle of the strings face
   * @throws IllegalArgumentException with one sentence that says what to write
   */
  public static PointsAsked read(String at, String counts) {
    List<Point> points = new ArrayList<>();
    boolean both = false;
    for (String each : at.split("[;,]", -1)) {
      String word = Cell.plain(each).toLowerCase(Locale.ROOT);
      if (word.equals(BOTH)) {
        both = true;
      } else if (!word.equals(STRINGS)) {
        points.add(point(word));
      }
    }
    return new PointsAsked(points, both, counts(Cell.plain(counts).toLowerCase(Locale.ROOT)));
  }

  private static Point point(String word) {
    if (word.equals(MIDDLE)) {
      return new Point(0.5, MIDDLE);
    }
    Matcher part = PART.matcher(word);
    if (part.matches()) {
      double of = Double.parseDouble(part.group(1)) / Double.parseDouble(part.group(2));
      if (of > 0 && of < 1) {
        // A half is the middle, however it is written.
        return of == 0.5 ? new Point(0.5, MIDDLE) : new Point(of, word.replace(" ", ""));
      }
    }
    throw new IllegalArgumentException(
        "'"
            + word
            + "' is no point of a magnet"
            + Nearest.hint(word, List.of(MIDDLE, BOTH, STRINGS))
            + "; "
            + WRITTEN);
  }

  private static Counts counts(String text) {
    if (text.isEmpty()) {
      return new Counts(Figure.MIDDLE, Faces.STRINGS);
    }
    for (Figure figure : Figure.values()) {
      for (Faces faces : Faces.values()) {
        Counts counts = new Counts(figure, faces);
        if (counts.words().equals(text)) {
          return counts;
        }
      }
    }
    List<String> known = Arrays.stream(Figure.values()).map(figure -> figure.word).toList();
    throw new IllegalArgumentException(
        "'"
            + text
            + "' is no figure that can count"
            + Nearest.hint(text, known)
            + "; write middle, mean or least, and 'of both faces' or 'of the other face' after it");
  }

  /**
   * What a plan of this text says of the magnet in this line; empty if it says nothing, or the text
   * is no plan.
   */
  public static Optional<PointsAsked> planned(String planText, long line) {
    List<PlanSheet.Row> rows = PlanSheet.of(planText).rows();
    if (rows.isEmpty()) {
      return Optional.empty();
    }
    PlanHeading heading = PlanHeading.of(rows.get(0));
    return rows.stream()
        .filter(row -> row.line() == line)
        .findFirst()
        .flatMap(row -> of(new RowCells(heading, row)));
  }

  /** What a row says; noted in the cells, and empty, if that cannot be. */
  static Optional<PointsAsked> of(RowCells cells) {
    String counts = cells.text(PlanColumn.COUNTS);
    if (cells.text(PlanColumn.READ_AT).isEmpty()) {
      if (!counts.isEmpty()) {
        cells.refuse(
            PlanColumn.COUNTS,
            "what counts of several points needs these in 'read at'; " + WRITTEN);
      }
      return Optional.empty();
    }
    return cells.read(PlanColumn.READ_AT, text -> read(text, counts));
  }

  /**
   * Why a magnet of this shape cannot be read so; empty if it can. Rods and rings, and bars charged
   * along their length, have one face to read at and no edge.
   */
  public Optional<String> objection(Shape shape) {
    boolean edge = shape instanceof Shape.Bar bar && bar.axis() != Shape.Axis.ALONG_LENGTH;
    return edge || points.stream().allMatch(Point::isMiddle)
        ? Optional.empty()
        : Optional.of(
            "a " + shape.words() + " has no edge to be read along; write: middle; both faces");
  }

  /** In the words of a plan. */
  public String words() {
    return String.join("; ", points.stream().map(Point::words).toList())
        + (bothFaces ? "; " + BOTH : "");
  }

  /** How far an end stands off from the point, for a person with a rule. */
  static Length fromEnd(Point point, Shape shape) {
    double length = shape instanceof Shape.Bar bar ? bar.length().metres() : 0;
    return new Length(point.part() * length);
  }
}
