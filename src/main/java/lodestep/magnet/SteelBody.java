package lodestep.magnet;

import java.util.ArrayList;
import java.util.List;

/**
 * A body of soft steel in a pickup: x along the strings, y along the row of poles, z up. Any
 * thread, immutable.
 */
public sealed interface SteelBody {

  /** Its surface in pieces, each of an even charge. */
  List<SteelPatch> patches();

  /**
   * An upright round pole piece.
   *
   * @param foot middle of its lower end
   * @param radiusMetres &gt; 0
   * @param lengthMetres &gt; 0
   */
  record Post(Place foot, double radiusMetres, double lengthMetres) implements SteelBody {

    private static final int BANDS = 24;
    private static final int RINGS = 7;

    /**
     * @throws IllegalArgumentException naming the size that is not above zero
     */
    public Post {
      Sizes.requireAboveZero("a pole piece's radius", radiusMetres);
      Sizes.requireAboveZero("a pole piece's length", lengthMetres);
    }

    /** Middle of its upper end. */
    public Place top() {
      return foot.moved(0, 0, lengthMetres);
    }

    /** Narrower towards the edges, where the charge crowds. */
    @Override
    public List<SteelPatch> patches() {
      List<SteelPatch> patches = new ArrayList<>();
      for (int band = 0; band < BANDS; band++) {
        double from = 0.5 * lengthMetres * (1 - Math.cos(Math.PI * band / BANDS));
        double to = 0.5 * lengthMetres * (1 - Math.cos(Math.PI * (band + 1) / BANDS));
        patches.add(ring(radiusMetres, 0.5 * (from + to), to - from));
      }
      for (int ring = 0; ring < RINGS; ring++) {
        double from = radiusMetres * Math.sin(0.5 * Math.PI * ring / RINGS);
        double to = radiusMetres * Math.sin(0.5 * Math.PI * (ring + 1) / RINGS);
        // The ring that halves the area, as an even charge does.
        double middle = Math.sqrt(0.5 * (from * from + to * to));
        patches.add(ring(middle, 0, to - from));
        patches.add(ring(middle, lengthMetres, to - from));
      }
      return patches;
    }

    private SteelPatch ring(double radius, double height, double width) {
      return new SteelPatch.Ring(foot.moved(0, 0, height), radius, width);
    }
  }

  /**
   * A square keeper or plate; poles may go through it.
   *
   * @param centre of the body
   * @param halfXMetres half its size along x, &gt; 0
   * @param halfYMetres along y
   * @param halfZMetres along z
   */
  record Plate(Place centre, double halfXMetres, double halfYMetres, double halfZMetres)
      implements SteelBody {

    /** Pieces are about so large, and narrower at the edges. */
    private static final double PIECE_METRES = 2.5e-3;

    private static final int PIECES_MIN = 3;

    /**
     * @throws IllegalArgumentException naming the size that is not above zero
     */
    public Plate {
      Sizes.requireAboveZero("half a keeper's size along x", halfXMetres);
      Sizes.requireAboveZero("half a keeper's size along y", halfYMetres);
      Sizes.requireAboveZero("half a keeper's size along z", halfZMetres);
    }

    @Override
    public List<SteelPatch> patches() {
      List<SteelPatch> patches = new ArrayList<>();
      double[] halves = {halfXMetres, halfYMetres, halfZMetres};
      for (int normal = 0; normal < halves.length; normal++) {
        for (int side = -1; side <= 1; side += 2) {
          face(patches, halves, normal, side);
        }
      }
      return patches;
    }

    private void face(List<SteelPatch> patches, double[] halves, int normal, int side) {
      int across = (normal + 1) % 3;
      int along = (normal + 2) % 3;
      double[] cuts = cuts(halves[across]);
      double[] rows = cuts(halves[along]);
      for (int i = 1; i < cuts.length; i++) {
        for (int j = 1; j < rows.length; j++) {
          double[] at = new double[3];
          double[] half = new double[3];
          at[normal] = side * halves[normal];
          at[across] = 0.5 * (cuts[i] + cuts[i - 1]);
          at[along] = 0.5 * (rows[j] + rows[j - 1]);
          half[across] = 0.5 * (cuts[i] - cuts[i - 1]);
          half[along] = 0.5 * (rows[j] - rows[j - 1]);
          Place place = centre.moved(at[0], at[1], at[2]);
          patches.add(new SteelPatch.Rectangle(place, half[0], half[1], half[2]));
        }
      }
    }

    private static double[] cuts(double half) {
      int pieces = Math.max(PIECES_MIN, (int) Math.ceil(2 * half / PIECE_METRES));
      double[] cuts = new double[pieces + 1];
      for (int cut = 0; cut <= pieces; cut++) {
        cuts[cut] = -half * Math.cos(Math.PI * cut / pieces);
      }
      return cuts;
    }
  }
}
