package lodestep.magnet;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * A pickup of six poles in a row that both we and finite elements work out. Lengths in millimetres.
 *
 * @param arranged "between two rows", "keeper", "either side" or "under"
 * @param susceptibility of the bars, which have a polarisation of 1 T in no field
 */
record SteelCase(
    String arranged,
    double barLength,
    double barWidth,
    double barThickness,
    double diameter,
    double length,
    double pitch,
    double susceptibility) {

  /** Heights above the poles from which fall and pull at 3 mm are told. */
  private static final double NEARER_MM = 2.5;

  private static final double FARTHER_MM = 3.5;

  /** To each side, as poles.pro has it. */
  private static final double ALONG_MM = 45;

  private static final int PIECES = 450;
  private static final double GAP = 0.2;
  private static final double KEEPER_HALF_WIDTH = 3;
  private static final double KEEPER_HALF_HEIGHT = 2;

  /** Likeliest of all: a bar between two rows of posts. */
  static final SteelCase ROWS = new SteelCase("between two rows", 58, 11.5, 3.4, 4.9, 15, 10.2, 3);

  /** One of the rows goes through a keeper. */
  static final SteelCase KEEPER = new SteelCase("keeper", 60, 12, 3.6, 4.9, 14, 10.2, 3);

  /** Two bars, like poles towards a row in a keeper. */
  static final SteelCase SIDES = new SteelCase("either side", 60, 10, 4, 5.2, 13, 10.4, 2.5);

  /** A bar charged through its thickness, under one row. */
  static final SteelCase UNDER = new SteelCase("under", 60, 14, 4, 4.9, 12, 10.2, 2);

  private boolean is(String word) {
    return arranged.equals(word);
  }

  private boolean kept() {
    return is("keeper") || is("either side");
  }

  private boolean twoRows() {
    return is("between two rows") || is("keeper");
  }

  private double barX() {
    return is("either side") ? KEEPER_HALF_WIDTH + GAP + 0.5 * barWidth : 0;
  }

  /** Of the row that is read. */
  double rowX() {
    return twoRows() ? 0.5 * barWidth + GAP + 0.5 * diameter : 0;
  }

  /** Of the other row, without sign; the row itself where there is none. */
  double otherX() {
    return is("keeper") ? 0.5 * barWidth + GAP + KEEPER_HALF_WIDTH : rowX();
  }

  private double foot() {
    return is("under") ? 0.5 * barThickness + GAP : -0.5 * barThickness;
  }

  private static Place place(double x, double y, double z) {
    return new Place(x * 1e-3, y * 1e-3, z * 1e-3);
  }

  /** So many pitches from the middle, so far above the poles. */
  Place above(double x, double pitches, double up) {
    return place(x, pitches * pitch, foot() + length + up);
  }

  /** Fall of the field along z over half a millimetre below and above 3 mm up, in T/m. */
  double gradient(FluxSource source, double x, double pitches) {
    return (source.at(above(x, pitches, NEARER_MM)).zTesla()
            - source.at(above(x, pitches, FARTHER_MM)).zTesla())
        / (1e-3 * (FARTHER_MM - NEARER_MM));
  }

  /**
   * The same of the integral of the square of what crosses a string along it, in T&sup2;: a string
   * is pulled by this, times its core's area over the magnetic constant.
   */
  double pull(FluxSource source, double pitches) {
    return (squares(source, pitches, NEARER_MM) - squares(source, pitches, FARTHER_MM))
        / (1e-3 * (FARTHER_MM - NEARER_MM));
  }

  private double squares(FluxSource source, double pitches, double up) {
    double sum = 0;
    for (int at = 0; at <= PIECES; at++) {
      Flux flux = source.at(above(ALONG_MM * (2.0 * at / PIECES - 1), pitches, up));
      double square = flux.yTesla() * flux.yTesla() + flux.zTesla() * flux.zTesla();
      sum += (at == 0 || at == PIECES ? 0.5 : 1) * square;
    }
    return sum * 2e-3 * ALONG_MM / PIECES;
  }

  private List<PlacedBar> bars() {
    double x = 0.5e-3 * barWidth;
    double y = 0.5e-3 * barLength;
    double z = 0.5e-3 * barThickness;
    return is("either side")
        ? List.of(
            new PlacedBar(place(barX(), 0, 0), x, y, z, false, -1),
            new PlacedBar(place(-barX(), 0, 0), x, y, z, false, 1))
        : List.of(new PlacedBar(place(0, 0, 0), x, y, z, is("under"), 1));
  }

  /** Bars and steel, for one tesla of the bars by themselves. */
  SteelCircuit circuit() {
    List<List<SteelBody>> steel = new ArrayList<>();
    if (!is("either side")) {
      posts(rowX()).forEach(post -> steel.add(List.of(post)));
    }
    if (kept()) {
      List<SteelBody> row = new ArrayList<>(posts(-otherX()));
      row.add(
          new SteelBody.Plate(
              place(-otherX(), 0, 0),
              KEEPER_HALF_WIDTH * 1e-3,
              0.5e-3 * barLength,
              KEEPER_HALF_HEIGHT * 1e-3));
      steel.add(row);
    } else if (twoRows()) {
      posts(-otherX()).forEach(post -> steel.add(List.of(post)));
    }
    return SteelCircuit.of(bars(), steel, susceptibility);
  }

  /** Of a bar by itself. */
  double aloneTesla() {
    return 1 / (1 + susceptibility * bars().get(0).demagnetisingFactor());
  }

  private List<SteelBody> posts(double x) {
    List<SteelBody> posts = new ArrayList<>();
    for (int at = 0; at < 6; at++) {
      Place place = place(x, (at - 2.5) * pitch, foot());
      posts.add(new SteelBody.Post(place, 0.5e-3 * diameter, length * 1e-3));
    }
    return posts;
  }

  /** For poles.geo and poles.pro. */
  String figures() {
    return String.format(
        Locale.ROOT,
        "bars = %d; rows = %d; upright = %d; barX = %.6fe-3;%n"
            + "halfX = %.6fe-3; halfY = %.6fe-3; halfZ = %.6fe-3;%n"
            + "rowX = %.6fe-3; otherX = %.6fe-3; pitch = %.6fe-3;%n"
            + "foot = %.6fe-3; length = %.6fe-3; radius = %.6fe-3;%n"
            + "keeperX = %.6fe-3; keeperY = %.6fe-3; keeperZ = %.6fe-3;%n"
            + "inner = 55e-3; outer = 80e-3; fine = 1.1e-3;%n"
            + "susceptibility = %.6f; polarisation = 1; permeable = 1000;%n",
        is("either side") ? 2 : 1,
        twoRows() ? 2 : 1,
        is("under") ? 1 : 0,
        barX(),
        0.5 * barWidth,
        0.5 * barLength,
        0.5 * barThickness,
        rowX(),
        otherX(),
        pitch,
        foot(),
        length,
        0.5 * diameter,
        kept() ? KEEPER_HALF_WIDTH : 0,
        0.5 * barLength,
        KEEPER_HALF_HEIGHT,
        susceptibility);
  }
}
