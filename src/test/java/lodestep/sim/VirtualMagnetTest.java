package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import java.util.function.Supplier;
import lodestep.magnet.Alloy;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.FaceField;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;

class VirtualMagnetTest {

  private static final double ROOM_KELVIN = 293.15;
  private static final double STAND_OFF_METRES = 2e-3;
  private static final double CHARGE = 600e3;
  private static final long SECOND_NS = 1_000_000_000L;

  private static final Alloy ALLOY = AlloyBook.standard().find("alnico 5").orElseThrow();
  private static final Shape ROD = new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5));
  private static final FaceModel KIND = FaceModel.of(ALLOY, ROD);

  @Test
  void sameSeedMakesTheSameMagnet() {
    for (long seed = 0; seed < 20; seed++) {
      VirtualMagnet one = magnet(seed);
      VirtualMagnet other = magnet(seed);
      one.applyPulse(0, 30e3, false);
      other.applyPulse(0, 30e3, false);

      assertThat(read(one, 5)).isEqualTo(read(other, 5));
    }
  }

  @Test
  void stockComesUnchargedOrLeftAtSomeLevel() {
    int uncharged = 0;
    int left = 0;
    for (long seed = 0; seed < 200; seed++) {
      double field = read(magnet(seed), 0);
      uncharged += field == 0 ? 1 : 0;
      left += Math.abs(field) > 0.01 ? 1 : 0;
    }

    assertThat(uncharged).isBetween(90, 150);
    assertThat(left).isGreaterThan(30);
  }

  /** Thinner walls than a magnet has would be refused; whatever is drawn, there is a wall left. */
  @Test
  void ringsAreDrawnWithAWall() {
    Shape thin = new Shape.Ring(Length.ofMm(9), Length.ofMm(8), Length.ofMm(3));
    FaceModel kind = FaceModel.of(ALLOY, thin);
    for (long seed = 0; seed < 200; seed++) {
      VirtualMagnet ring = VirtualMagnet.of(kind, true, new SplittableRandom(seed));
      ring.applyPulse(CHARGE, 0, true);

      double nominal = kind.chargedField(new Length(STAND_OFF_METRES)).tesla();
      assertThat(read(ring, 0)).isBetween(0.7 * nominal, 1.4 * nominal);
    }
  }

  @Test
  void magnetLeftChargedShowsThePoleAskedFor() {
    for (long seed = 0; seed < 50; seed++) {
      double north = read(VirtualMagnet.of(KIND, true, new SplittableRandom(seed)), 0);
      double south = read(VirtualMagnet.of(KIND, false, new SplittableRandom(seed)), 0);

      assertThat(south).isCloseTo(-north, within(1e-9));
    }
  }

  /** Mean and spread of what a fully charged lot reads, against the alloy's figures. */
  @Test
  void chargedMagnetsSpreadAroundTheAlloysFigures() {
    double nominal = KIND.chargedField(new Length(STAND_OFF_METRES)).tesla();
    int count = 500;
    double sum = 0;
    double squares = 0;
    for (long seed = 0; seed < count; seed++) {
      VirtualMagnet magnet = magnet(seed);
      magnet.applyPulse(CHARGE, 0, true);
      double relative = read(magnet, 0) / nominal;
      sum += relative;
      squares += relative * relative;
    }

    double mean = sum / count;
    double deviation = Math.sqrt(squares / count - mean * mean);
    assertThat(mean).isCloseTo(1, within(0.01));
    assertThat(deviation).isBetween(0.01, 0.05);
  }

  @Test
  void magnetsOfOneLotLieNearerTogetherThanLotsDo() {
    assertThat(deviationWithinALot()).isLessThan(0.8 * deviationOfLots());
  }

  @Test
  void orderOfThePeaksDecidesThePole() {
    VirtualMagnet magnet = magnet(3);
    magnet.applyPulse(CHARGE, CHARGE, true);
    assertThat(read(magnet, 0)).isNegative();

    magnet.applyPulse(CHARGE, CHARGE, false);
    assertThat(read(magnet, 1)).isPositive();
  }

  /** An undershoot of a twentieth after a charge costs a good part of it: why there is one sign. */
  @Test
  void undershootAfterAChargeTakesSomeOfItAway() {
    VirtualMagnet clean = magnet(4);
    VirtualMagnet swung = magnet(4);
    clean.applyPulse(CHARGE, 0, true);
    swung.applyPulse(CHARGE, 0.05 * CHARGE, true);

    assertThat(read(swung, 0)).isLessThan(0.85 * read(clean, 0));
  }

  @Test
  void weakerReversePulseDoesNotMoveIt() {
    VirtualMagnet magnet = magnet(5);
    magnet.applyPulse(CHARGE, 0, true);
    read(magnet, 0);
    magnet.applyPulse(0, 25e3, false);
    read(magnet, 1);
    double before = read(magnet, 20);

    magnet.applyPulse(0, 23e3, false);

    assertThat(read(magnet, 20)).isCloseTo(before, within(1e-9));
  }

  /** The trade's law of creeping: equal losses in equal ratios of time. */
  @Test
  void creepsWithTheLogarithmOfTime() {
    VirtualMagnet magnet = magnet(6);
    magnet.applyPulse(CHARGE, 0, true);
    double start = read(magnet, 0);
    double afterOne = read(magnet, 1);
    double afterTen = read(magnet, 10);
    double afterHundred = read(magnet, 100);

    // A decade takes a ten thousandth of the polarisation, and of the reading what that makes.
    FaceField face = KIND.at(new Length(STAND_OFF_METRES));
    double full = KIND.model().chargedPolarisationTesla();
    double decade = 1 - face.tesla(full * (1 - 1e-4)) / face.tesla(full);
    assertThat(decade).isBetween(0.9e-4, 1.1e-4);
    assertThat((afterOne - afterTen) / start).isCloseTo(decade, within(2e-6));
    assertThat((afterTen - afterHundred) / start).isCloseTo(decade, within(2e-6));
  }

  /** Creeping takes what the next small knock-down would have taken: the reading never rises. */
  @Test
  void readingNeverRisesUnderGrowingReversePulses() {
    VirtualMagnet magnet = magnet(7);
    magnet.applyPulse(CHARGE, 0, true);
    double last = read(magnet, 0);
    for (int i = 1; i <= 400; i++) {
      magnet.applyPulse(0, 20e3 + i, false);
      double now = read(magnet, 10L * i);
      assertThat(now).as("pulse %s", i).isLessThanOrEqualTo(last + 1e-12);
      now = read(magnet, 10L * i + 5);
      last = now;
    }
  }

  @Test
  void followsTemperatureReversibly() {
    VirtualMagnet magnet = magnet(8);
    magnet.applyPulse(CHARGE, 0, true);
    double cool = magnet.faceFieldTesla(STAND_OFF_METRES, ROOM_KELVIN, 0);
    double warm = magnet.faceFieldTesla(STAND_OFF_METRES, ROOM_KELVIN + 10, 0);

    assertThat(warm / cool - 1).isCloseTo(10 * ALLOY.remanencePerKelvin(), within(1e-9));
    assertThat(magnet.faceFieldTesla(STAND_OFF_METRES, ROOM_KELVIN, 0)).isEqualTo(cool);
  }

  @Test
  void turningOverShowsTheOtherPoleAndKeepsTheMemory() {
    VirtualMagnet magnet = magnet(9);
    magnet.applyPulse(CHARGE, 0, true);
    double north = read(magnet, 0);

    magnet.turnOver();
    assertThat(read(magnet, 0)).isEqualTo(-north);
    magnet.applyPulse(30e3, 0, true);
    double weakened = read(magnet, 0);

    VirtualMagnet upright = magnet(9);
    upright.applyPulse(CHARGE, 0, true);
    read(upright, 0);
    upright.applyPulse(0, 30e3, false);
    assertThat(weakened).isCloseTo(-read(upright, 0), within(1e-12));
  }

  @Test
  void readsALittleDifferentAtEachSeating() {
    VirtualMagnet magnet = magnet(10);
    magnet.applyPulse(CHARGE, 0, true);
    SplittableRandom random = new SplittableRandom(77);
    double squares = 0;
    int count = 2000;
    for (int i = 0; i < count; i++) {
      double without = read(magnet, 0) / magnet.seatingFactor();
      magnet.reseat(random);
      assertThat(read(magnet, 0)).isCloseTo(without * magnet.seatingFactor(), within(1e-12));
      squares += Math.pow(magnet.seatingFactor() - 1, 2);
    }

    assertThat(Math.sqrt(squares / count)).isCloseTo(0.0015, within(1e-4));
  }

  @Test
  void refusesPeaksThatNoPulseHas() {
    VirtualMagnet magnet = magnet(11);
    assertThatThrownBy(() -> magnet.applyPulse(-1, 0, true)).hasMessageContaining("no sign");
    assertThatThrownBy(() -> magnet.applyPulse(0, Double.NaN, true)).hasMessageContaining("sign");
  }

  @Test
  void tinyMagnetsKeepASizeThatExists() {
    FaceModel kind = FaceModel.of(ALLOY, new Shape.Rod(Shape.SIZE_MIN, Shape.SIZE_MIN));
    for (long seed = 0; seed < 50; seed++) {
      VirtualMagnet magnet = VirtualMagnet.of(kind, true, new SplittableRandom(seed));
      assertThat(read(magnet, 0)).isFinite();
    }
  }

  private static double deviationWithinALot() {
    SplittableRandom random = new SplittableRandom(21);
    VirtualMagnet.Lot lot = VirtualMagnet.Lot.drawn(KIND, random);
    return deviation(() -> VirtualMagnet.of(lot, true, random));
  }

  private static double deviationOfLots() {
    SplittableRandom random = new SplittableRandom(22);
    return deviation(() -> VirtualMagnet.of(KIND, true, random));
  }

  private static double deviation(Supplier<VirtualMagnet> next) {
    int count = 300;
    double sum = 0;
    double squares = 0;
    for (int i = 0; i < count; i++) {
      VirtualMagnet magnet = next.get();
      magnet.applyPulse(CHARGE, 0, true);
      double field = read(magnet, 0);
      sum += field;
      squares += field * field;
    }
    double mean = sum / count;
    return Math.sqrt(squares / count - mean * mean) / mean;
  }

  private static VirtualMagnet magnet(long seed) {
    return VirtualMagnet.of(KIND, true, new SplittableRandom(seed));
  }

  private static double read(VirtualMagnet magnet, long seconds) {
    return magnet.faceFieldTesla(STAND_OFF_METRES, ROOM_KELVIN, seconds * SECOND_NS);
  }
}
