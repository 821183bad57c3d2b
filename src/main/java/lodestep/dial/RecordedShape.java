package lodestep.dial;

import java.util.List;
import java.util.Optional;
import lodestep.magnet.Shape;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.quantity.Length;

/** A magnet's shape as the record has it. Pure. */
public final class RecordedShape {

  private RecordedShape() {}

  /** Its words: "rod", "ring", "bar through its width". */
  public static String words(Shape shape) {
    return shape instanceof Shape.Bar bar ? "bar " + bar.axis().words() : shape.kind();
  }

  /** Its sizes in micrometres, in the order in which its constructor takes them. */
  public static List<Long> sizesMicroMetres(Shape shape) {
    if (shape instanceof Shape.Bar bar) {
      return List.of(
          bar.length().microMetres(), bar.width().microMetres(), bar.thickness().microMetres());
    }
    if (shape instanceof Shape.Ring ring) {
      return List.of(
          ring.outside().microMetres(), ring.inside().microMetres(), ring.length().microMetres());
    }
    Shape.Rod rod = (Shape.Rod) shape;
    return List.of(rod.diameter().microMetres(), rod.length().microMetres());
  }

  /** The shape; empty if a later program has written one that this one does not know. */
  public static Optional<Shape> find(MagnetNamed named) {
    List<Length> sizes = named.sizesMicroMetres().stream().map(Length::ofMicroMetres).toList();
    if (named.shape().equals("rod") && sizes.size() == 2) {
      return Optional.of(new Shape.Rod(sizes.get(0), sizes.get(1)));
    }
    if (named.shape().equals("ring") && sizes.size() == 3) {
      return Optional.of(new Shape.Ring(sizes.get(0), sizes.get(1), sizes.get(2)));
    }
    for (Shape.Axis axis : Shape.Axis.values()) {
      if (named.shape().equals("bar " + axis.words()) && sizes.size() == 3) {
        return Optional.of(new Shape.Bar(sizes.get(0), sizes.get(1), sizes.get(2), axis));
      }
    }
    return Optional.empty();
  }

  /**
   * The shape.
   *
   * @throws IllegalArgumentException with one sentence, if this program knows no such shape
   */
  public static Shape of(MagnetNamed named) {
    return find(named)
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    named.name()
                        + " is a "
                        + named.shape()
                        + ", which this program does not know; a later one wrote it"));
  }
}
