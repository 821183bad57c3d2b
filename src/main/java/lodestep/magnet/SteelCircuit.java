package lodestep.magnet;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

/**
 * Bar magnets between bodies of soft steel, as in a pickup with pole pieces. Any thread, immutable;
 * takes some tenths of a second to work out.
 *
 * <p>An approximation, by surface charges (boundary elements; see any text on magnetostatics). The
 * steel is taken as endlessly permeable and far from saturated: each body, or several that touch,
 * is at one potential and has no net charge. A pole piece's charge is even around it; the bars are
 * even all through. A bar that was dialed by itself and then put between steel comes back along its
 * recoil line as the steel takes up part of its own field: J(1 + &chi;(N - h)) =
 * J<sub>alone</sub>(1 + &chi;N), N the bar's magnetometric demagnetising factor, h what steel and
 * other bars give it for one tesla, both as means over the bar. A bar charged in the finished
 * pickup is stronger; that is not in it.
 *
 * <p>Range: flux density in the steel up to {@value #STEEL_MAX_TESLA} T, which {@link #steelTesla}
 * says; no neighbour of iron. Held against finite elements with steel of relative permeability
 * 1000: see {@code SteelCircuitTest} for how far they are apart.
 */
public final class SteelCircuit implements FluxSource {

  /**
   * Above this ordinary pole steel is no longer endlessly permeable; common practice, no source.
   */
  public static final double STEEL_MAX_TESLA = 1.4;

  private static final int AROUND_NEAR = 24;
  private static final int AROUND_FAR = 3;
  private static final double NEAR_RADII = 6;
  private static final double[] SAMPLES = {-0.8, -0.4, 0, 0.4, 0.8};

  private final List<PlacedBar> bars;
  private final List<SteelCharges.Body> bodies;
  private final double overAlone;

  /** Points that stand for a body's charge. */
  private static final class Points {
    private final double[] x;
    private final double[] y;
    private final double[] z;
    private final double[] charge;

    Points(List<Place> places, List<Double> charges) {
      this.x = places.stream().mapToDouble(Place::xMetres).toArray();
      this.y = places.stream().mapToDouble(Place::yMetres).toArray();
      this.z = places.stream().mapToDouble(Place::zMetres).toArray();
      this.charge = charges.stream().mapToDouble(each -> each).toArray();
    }

    void addTo(double[] flux, Place place) {
      for (int at = 0; at < x.length; at++) {
        double dx = place.xMetres() - x[at];
        double dy = place.yMetres() - y[at];
        double dz = place.zMetres() - z[at];
        double square = dx * dx + dy * dy + dz * dz;
        double weight = charge[at] / (4 * Math.PI * square * Math.sqrt(square));
        flux[0] += weight * dx;
        flux[1] += weight * dy;
        flux[2] += weight * dz;
      }
    }
  }

  private final List<Points> near;
  private final List<Points> far;

  private SteelCircuit(List<PlacedBar> bars, List<SteelCharges.Body> bodies, double overAlone) {
    this.bars = bars;
    this.bodies = bodies;
    this.overAlone = overAlone;
    this.near = bodies.stream().map(body -> points(body, AROUND_NEAR)).toList();
    this.far = bodies.stream().map(body -> points(body, AROUND_FAR)).toList();
  }

  /**
   * Works it out.
   *
   * @param bars all alike but for their places and signs
   * @param touching bodies of steel, those that touch one another in one list
   * @param susceptibility of the bars along their recoil line, &ge; 0
   */
  public static SteelCircuit of(
      List<PlacedBar> bars, List<List<SteelBody>> touching, double susceptibility) {
    SteelCharges steel = new SteelCharges(touching);
    double[] given = steel.means(place -> potential(bars, place));
    double[] charges = steel.undoing(given);
    double sum = around(bars, touching);
    for (int at = 0; at < given.length; at++) {
      sum += charges[at] * given[at];
    }
    double volume = bars.stream().mapToDouble(PlacedBar::cubicMetres).sum();
    double help = mutual(bars) - sum / volume;
    double own = bars.get(0).demagnetisingFactor();
    double overAlone = (1 + susceptibility * own) / (1 + susceptibility * (own - help));
    return new SteelCircuit(List.copyOf(bars), steel.bodies(charges), overAlone);
  }

  private static double potential(List<PlacedBar> bars, Place place) {
    return bars.stream().mapToDouble(bar -> bar.potentialAt(place)).sum();
  }

  /** What is uneven around posts that face a bar with no plate in between. */
  private static double around(List<PlacedBar> bars, List<List<SteelBody>> touching) {
    Map<List<Double>, AroundPost> alike = new HashMap<>();
    double sum = 0;
    for (List<SteelBody> group : touching) {
      if (group.stream().anyMatch(SteelBody.Plate.class::isInstance)) {
        continue;
      }
      for (SteelBody body : group) {
        SteelBody.Post post = (SteelBody.Post) body;
        SteelBody.Post at0 =
            new SteelBody.Post(
                new Place(0, 0, post.foot().zMetres()), post.radiusMetres(), post.lengthMetres());
        AroundPost one =
            alike.computeIfAbsent(
                List.of(post.foot().zMetres(), post.radiusMetres(), post.lengthMetres()),
                key -> new AroundPost(at0));
        sum += one.chargeTimes(bars, post.foot().xMetres(), post.foot().yMetres());
      }
    }
    return sum;
  }

  /** What the other bars give one, as a mean over it, for one tesla of each. */
  private static double mutual(List<PlacedBar> bars) {
    PlacedBar one = bars.get(0);
    double sum = 0;
    for (PlacedBar other : bars.subList(1, bars.size())) {
      FluxSource source = other.perTesla();
      for (double x : SAMPLES) {
        for (double y : SAMPLES) {
          Flux flux =
              source.at(one.centre().moved(x * one.halfXMetres(), y * one.halfYMetres(), 0));
          sum += one.sign() * (one.upright() ? flux.zTesla() : flux.xTesla());
        }
      }
    }
    return sum / (SAMPLES.length * SAMPLES.length);
  }

  private static Points points(SteelCharges.Body body, int around) {
    List<Place> places = new ArrayList<>();
    List<Double> charges = new ArrayList<>();
    for (int at = 0; at < body.charges().size(); at++) {
      SteelPatch patch = body.patches().get(at);
      List<Place> its =
          patch instanceof SteelPatch.Ring ring ? ring.around(around) : patch.places();
      places.addAll(its);
      for (int one = 0; one < its.size(); one++) {
        charges.add(body.charges().get(at) / its.size());
      }
    }
    return new Points(places, charges);
  }

  /** A bar's polarisation between the steel over what it has by itself, &gt; 1 as a rule. */
  public double overAlone() {
    return overAlone;
  }

  /** {@inheritDoc} For one tesla of the bars by themselves; outside steel and bars alone. */
  @Override
  public Flux at(Place place) {
    double[] flux = new double[3];
    for (int at = 0; at < bodies.size(); at++) {
      (isNear(bodies.get(at).body(), place) ? near : far).get(at).addTo(flux, place);
    }
    Flux all = new Flux(flux[0], flux[1], flux[2]);
    for (PlacedBar bar : bars) {
      all = all.plus(bar.perTesla().at(place));
    }
    return all.times(overAlone);
  }

  private static boolean isNear(SteelBody body, Place place) {
    return body instanceof SteelBody.Post post
        && Math.hypot(
                place.xMetres() - post.foot().xMetres(), place.yMetres() - post.foot().yMetres())
            < NEAR_RADII * post.radiusMetres();
  }

  /** The largest flux density along any pole piece, for one tesla of the bars by themselves. */
  public double steelTesla() {
    double most = 0;
    for (SteelCharges.Body body : bodies) {
      if (body.body() instanceof SteelBody.Post post) {
        most = Math.max(most, Math.abs(mostFlux(body)) / area(post));
      }
    }
    return most * overAlone;
  }

  private static double area(SteelBody.Post post) {
    return Math.PI * post.radiusMetres() * post.radiusMetres();
  }

  /** The largest charge above any cut: what goes through there. */
  private double mostFlux(SteelCharges.Body body) {
    double lowest = outOfPlates((SteelBody.Post) body.body());
    int[] order =
        IntStream.range(0, body.charges().size())
            .filter(at -> height(body, at) >= lowest)
            .boxed()
            .sorted(Comparator.comparingDouble(at -> -height(body, at)))
            .mapToInt(at -> at)
            .toArray();
    double above = 0;
    double most = 0;
    for (int at : order) {
      above += body.charges().get(at);
      most = Math.max(most, Math.abs(above));
    }
    return most;
  }

  private static double height(SteelCharges.Body body, int at) {
    return ((SteelPatch.Ring) body.patches().get(at)).centre().zMetres();
  }

  /** From where a post carries by itself: inside a plate the two of them do. */
  private double outOfPlates(SteelBody.Post post) {
    double lowest = Double.NEGATIVE_INFINITY;
    for (SteelCharges.Body body : bodies) {
      if (body.body() instanceof SteelBody.Plate plate
          && Math.abs(post.foot().xMetres() - plate.centre().xMetres()) < plate.halfXMetres()
          && Math.abs(post.foot().yMetres() - plate.centre().yMetres()) < plate.halfYMetres()) {
        lowest = Math.max(lowest, plate.centre().zMetres() + plate.halfZMetres());
      }
    }
    return lowest;
  }
}
