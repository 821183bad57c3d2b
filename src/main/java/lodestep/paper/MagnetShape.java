package lodestep.paper;

import java.util.List;
import java.util.Optional;
import lodestep.magnet.Shape;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.quantity.Length;

/** A magnet's shape from its name's entry. Pure. */
public final class MagnetShape {

  private MagnetShape() {}

  /** The shape; empty if a later program has written one that this one does not know. */
  public static Optional<Shape> of(MagnetNamed named) {
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
}
