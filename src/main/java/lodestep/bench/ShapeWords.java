package lodestep.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import lodestep.magnet.Shape;
import lodestep.quantity.Length;
import lodestep.quantity.Nearest;

/** The shapes a plan can name, and how their sizes are written. */
enum ShapeWords {
  ROD("rod", "rod", 2, "diameter x length, like 4.9 x 16.5 mm"),
  RING("ring", "ring", 3, "outside diameter x inside diameter x length, like 17.5 x 7.2 x 9.4 mm"),
  BAR("bar", "bar", 3, ShapeWords.BAR_SIZES),
  BAR_THROUGH_WIDTH("bar through width", "bar", 3, ShapeWords.BAR_SIZES),
  BAR_THROUGH_THICKNESS("bar through thickness", "bar", 3, ShapeWords.BAR_SIZES),
  BAR_ALONG_LENGTH("bar along length", "bar", 3, ShapeWords.BAR_SIZES);

  private static final String BAR_SIZES = "length x width x thickness, like 58 x 11.5 x 3.4 mm";

  private final String words;
  private final String nestShape;
  private final int sizes;
  private final String sizesWritten;

  ShapeWords(String words, String nestShape, int sizes, String sizesWritten) {
    this.words = words;
    this.nestShape = nestShape;
    this.sizes = sizes;
    this.sizesWritten = sizesWritten;
  }

  /** The shape as the rig's nests name it: "rod", "ring" or "bar". */
  String nestShape() {
    return nestShape;
  }

  /**
   * @param text stripped, single spaces
   * @throws IllegalArgumentException naming the shapes there are
   */
  static ShapeWords read(String text) {
    List<String> known = Arrays.stream(values()).map(shape -> shape.words).toList();
    return Arrays.stream(values())
        .filter(shape -> shape.words.equals(text.toLowerCase(Locale.ROOT)))
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    "'"
                        + text
                        + "' is no shape"
                        + Nearest.hint(text.toLowerCase(Locale.ROOT), known)
                        + "; write one of: "
                        + String.join(", ", known)));
  }

  /**
   * The magnet of this shape with the sizes written. A size without a unit has the unit of the next
   * one that has: {@code 4.9 x 16.5 mm}.
   *
   * @throws IllegalArgumentException with one sentence that says what is wrong and how to write it
   */
  Shape sized(String text) {
    List<Length> lengths = lengths(text);
    return switch (this) {
      case ROD -> new Shape.Rod(lengths.get(0), lengths.get(1));
      case RING -> new Shape.Ring(lengths.get(0), lengths.get(1), lengths.get(2));
      case BAR, BAR_THROUGH_WIDTH -> bar(lengths, Shape.Axis.THROUGH_WIDTH);
      case BAR_THROUGH_THICKNESS -> bar(lengths, Shape.Axis.THROUGH_THICKNESS);
      case BAR_ALONG_LENGTH -> bar(lengths, Shape.Axis.ALONG_LENGTH);
    };
  }

  private List<Length> lengths(String text) {
    // A comma for a decimal point is refused by the length itself, with its own sentence.
    List<String> parts = new ArrayList<>(List.of(text.split("\\s*[xX\u00d7*]\\s*", -1)));
    if (parts.size() != sizes || parts.stream().anyMatch(String::isBlank)) {
      throw new IllegalArgumentException(
          "'" + text + "' is no size of a " + nestShape + "; write " + sizesWritten);
    }
    String unit = "";
    for (int i = parts.size() - 1; i >= 0; i--) {
      String own = parts.get(i).replaceFirst("^[-+\u2212.,/0-9eE]+\\s*", "");
      unit = own.isEmpty() ? unit : own;
      parts.set(i, own.isEmpty() ? parts.get(i) + " " + unit : parts.get(i));
    }
    if (unit.isEmpty()) {
      throw new IllegalArgumentException("'" + text + "' has no unit; write " + sizesWritten);
    }
    return parts.stream().map(this::length).toList();
  }

  private Length length(String text) {
    Length length = Length.parse(text);
    if (!(length.metres() > 0)) {
      throw new IllegalArgumentException(
          "the size '" + text.strip() + "' is not above zero; write " + sizesWritten);
    }
    return length;
  }

  private static Shape bar(List<Length> lengths, Shape.Axis axis) {
    boolean falling =
        lengths.get(0).compareTo(lengths.get(1)) >= 0
            && lengths.get(1).compareTo(lengths.get(2)) >= 0;
    if (!falling) {
      // Else a bar charged through its width would be reckoned through its thickness, unnoticed.
      throw new IllegalArgumentException(
          "the sizes of a bar are written from the longest to the shortest: "
              + lengths.stream()
                  .sorted(Comparator.reverseOrder())
                  .map(Length::written)
                  .collect(Collectors.joining(" x ")));
    }
    return new Shape.Bar(lengths.get(0), lengths.get(1), lengths.get(2), axis);
  }
}
