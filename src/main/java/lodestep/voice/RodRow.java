package lodestep.voice;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import lodestep.magnet.Figure;
import lodestep.magnet.Flux;
import lodestep.magnet.FluxSource;
import lodestep.magnet.Place;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * Rods or rings side by side, one under each string, their tops level: what all of them make at a
 * string. One thread.
 *
 * <p>Fields add. Each rod was dialed by itself and goes along its recoil line in the field of the
 * others as it is put between them: J(1 + &chi;N) = J<sub>alone</sub>(1 + &chi;N) + &chi;B, N its
 * magnetometric demagnetising factor, B what the others make in it as a mean along its axis; like
 * poles weaken one another, unlike ones strengthen. The linear equations of all rods are solved by
 * going round them.
 *
 * <p>Range: rods apart by their diameter at least, whose opposing field of others stays below what
 * they were knocked down with. One that is fully charged has no such reserve and loses more at its
 * first assembly than is reckoned here.
 */
final class RodRow {

  private static final double MU0 = 4e-7 * Math.PI;
  private static final int SAMPLES = 9;
  private static final int ROUNDS_MAX = 60;
  private static final double ACCURACY = 1e-9;

  private final List<Rod> rods;
  private final Length pitch;
  private final List<FluxSource> alone;
  private final double[] parts;
  private double opposingTesla;

  /**
   * A rod as it stands under its string.
   *
   * @param dialed to, by itself
   * @param times by how much it reads more than a nominal one can
   * @param north whether north looks at the strings
   */
  record Rod(LevelField level, FluxDensity dialed, double times, boolean north) {

    /** Signed, by itself, in tesla. */
    private double tesla() {
      return (north ? times : -times) * level.meanTesla(dialed);
    }

    private double halfHeight() {
      return 0.5 * level.kind().shape().height().metres();
    }

    /** Opposing polarisation that a tesla of the others' field leaves. */
    private double response() {
      double chi = level.kind().alloy().figure(Figure.RECOIL) - 1;
      return chi / (1 + chi * level.kind().shape().demagnetisingFactor());
    }

    /** Around its centre for one tesla of mean polarisation, on the side that looks up. */
    private FluxSource perTesla() {
      return mirrored(level.at(dialed).times(1 / level.meanTesla(dialed)));
    }
  }

  /**
   * @param rods in the order of the strings
   */
  RodRow(List<Rod> rods, Length pitch) {
    this.rods = List.copyOf(rods);
    this.pitch = pitch;
    Map<String, FluxSource> alike = new HashMap<>();
    this.alone = new ArrayList<>();
    for (Rod rod : rods) {
      String key = rod.level().kind() + " " + rod.dialed().tesla();
      alone.add(alike.computeIfAbsent(key, any -> rod.perTesla()));
    }
    this.parts = together();
  }

  /** Signed polarisation of each beside the others, as a part of its own by itself. */
  List<Double> parts() {
    List<Double> found = new ArrayList<>();
    for (double part : parts) {
      found.add(part);
    }
    return found;
  }

  /** The strongest field of the others against one, as its mean along the axis. */
  FieldStrength opposing() {
    return new FieldStrength(opposingTesla / MU0);
  }

  private double[] together() {
    double[] now = new double[rods.size()];
    double[] own = new double[rods.size()];
    for (int at = 0; at < now.length; at++) {
      own[at] = rods.get(at).tesla();
      now[at] = own[at];
    }
    double[][] given = given();
    double moved = 1;
    for (int round = 0; round < ROUNDS_MAX && moved > ACCURACY; round++) {
      moved = 0;
      opposingTesla = 0;
      for (int at = 0; at < now.length; at++) {
        double by = 0;
        for (int other = 0; other < now.length; other++) {
          by += given[at][other] * now[other];
        }
        opposingTesla = Math.max(opposingTesla, -Math.signum(own[at]) * by);
        double next = own[at] + rods.get(at).response() * by;
        moved = Math.max(moved, Math.abs(next - now[at]));
        now[at] = next;
      }
    }
    for (int at = 0; at < now.length; at++) {
      now[at] /= own[at];
    }
    return now;
  }

  /** What one tesla of each other rod makes in each along its axis. */
  private double[][] given() {
    double[][] given = new double[rods.size()][rods.size()];
    for (int at = 0; at < rods.size(); at++) {
      for (int other = 0; other < rods.size(); other++) {
        if (other != at) {
          given[at][other] = mean(at, other);
        }
      }
    }
    return given;
  }

  private double mean(int at, int other) {
    double half = rods.get(at).halfHeight();
    double lower = rods.get(other).halfHeight() - half;
    double aside = (at - other) * pitch.metres();
    double sum = 0;
    for (int sample = 0; sample < SAMPLES; sample++) {
      double z = half * ((2 * sample + 1.0) / SAMPLES - 1) + lower;
      sum += alone.get(other).at(new Place(0, aside, z)).zTesla();
    }
    return sum / SAMPLES;
  }

  /** Around the middle of the top of a rod, or of a ring's wall: x along the string, z up. */
  FluxSource above(int string) {
    double aside = rods.get(string).level().kind().shape().readAside();
    return place -> {
      Flux sum = Flux.NONE;
      for (int at = 0; at < rods.size(); at++) {
        double along = aside + (string - at) * pitch.metres();
        Place seen = place.moved(0, along, rods.get(at).halfHeight());
        sum = sum.plus(alone.get(at).at(seen).times(rods.get(at).tesla() * parts[at]));
      }
      return sum;
    };
  }

  /**
   * Round about its axis, so that a place is told by its distances; asked for again, it is free.
   */
  private static FluxSource mirrored(FluxSource source) {
    FluxSource quarter = PickupField.remembered(source);
    return place -> {
      Flux flux =
          quarter.at(
              new Place(Math.abs(place.xMetres()), Math.abs(place.yMetres()), place.zMetres()));
      return new Flux(
          place.xMetres() < 0 ? -flux.xTesla() : flux.xTesla(),
          place.yMetres() < 0 ? -flux.yTesla() : flux.yTesla(),
          flux.zTesla());
    };
  }
}
