package lodestep.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.dial.CoilDrive;
import lodestep.dial.FieldSource;
import lodestep.dial.RigMemory;
import lodestep.dial.RigNow;
import lodestep.dial.SwitchedDrive;
import lodestep.magnet.Alloy;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Nearest;
import lodestep.quantity.Temperature;

/** A magnet that is asked about and not worked: what it is, and what a rig can do with it. Pure. */
public final class MagnetAsked {

  /** A bench's temperature; what a coil reaches hardly depends on it. */
  private static final Temperature ROOM = Temperature.ofDegC(22);

  private MagnetAsked() {}

  /**
   * The alloy of this name.
   *
   * @throws IllegalArgumentException with one sentence that names those there are
   */
  public static Alloy alloy(AlloyBook book, String text) {
    return book.find(text)
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    "'"
                        + text
                        + "' is no alloy known here"
                        + Nearest.hint(book.nearest(text))
                        + "; known are: "
                        + String.join(", ", book.names())));
  }

  /**
   * The shape in the words of a plan.
   *
   * @param shape for example {@code rod}, {@code bar along length}
   * @param size for example {@code 4.6 x 15.5 mm}
   * @throws IllegalArgumentException with one sentence that says how to write it
   */
  public static Shape shape(String shape, String size) {
    return ShapeWords.read(shape.strip().replaceAll("\\s+", " ")).sized(size.strip());
  }

  /**
   * How far one of the rig's nests goes with a magnet.
   *
   * @param source in words, for example "slot coil"
   * @param most strongest field it gives there, its mean over the magnet; empty when nothing
   *     charges there but a hand
   */
  public record Reach(NestConfig nest, String source, Optional<FieldStrength> most) {

    /** A coil's figure is its mean over the work; the ends see at least this part of it. */
    private static final double LEAST_OF_MEAN = 0.83;

    /** Whether its mean over such a magnet saturates it. */
    public boolean saturates(FaceModel kind) {
      return saturates(kind, 1);
    }

    /**
     * Whether it saturates its ends as well: by the least part of the mean that close coils of
     * usual sizes give anywhere on the work's axis (rods 0.87 and more, slots around bars 0.83 and
     * more; sums over loops of our own).
     */
    public boolean saturatesThroughout(FaceModel kind) {
      return saturates(kind, LEAST_OF_MEAN);
    }

    private boolean saturates(FaceModel kind, double part) {
      double needed = kind.saturating().amperesPerMetre();
      return most.filter(field -> part * field.amperesPerMetre() >= needed).isPresent();
    }
  }

  /** What each nest of this rig that takes the shape can do; empty if none takes it. */
  public static List<Reach> reaches(Shape shape, RigConfig rig) {
    RigNow now = new RigNow(ROOM, RigMemory.none());
    List<Reach> reaches = new ArrayList<>();
    for (NestConfig nest : rig.nests()) {
      if (nest.shape().equals(shape.kind())) {
        reaches.add(
            rig.coils().isEmpty()
                ? new Reach(nest, "by hand", Optional.empty())
                : new Reach(nest, nest.coil(), Optional.of(source(nest, rig).fields(now).most())));
      }
    }
    return reaches;
  }

  private static FieldSource source(NestConfig nest, RigConfig rig) {
    return rig.supply()
        .<FieldSource>map(supply -> new SwitchedDrive(rig.coil(nest.coil()), supply))
        .orElseGet(() -> new CoilDrive(rig.coil(nest.coil()), rig.bank()));
  }
}
