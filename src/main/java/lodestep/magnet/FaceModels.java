package lodestep.magnet;

import java.util.HashMap;
import java.util.Map;

/** Works each kind of magnet out once, for a plan or a stock. One thread only. */
public final class FaceModels {

  private record Kind(Alloy alloy, Shape shape) {}

  private final Map<Kind, FaceModel> known = new HashMap<>();
  private final HallElement element;

  /** For kinds read by this element. */
  public FaceModels(HallElement element) {
    this.element = element;
  }

  /** The model of this kind. */
  public FaceModel of(Alloy alloy, Shape shape) {
    return known.computeIfAbsent(
        new Kind(alloy, shape), kind -> FaceModel.of(kind.alloy(), kind.shape()).seenBy(element));
  }
}
