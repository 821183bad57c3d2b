package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import lodestep.dial.Rereading.Finding;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.GaugeZero;
import lodestep.measure.Seating;
import lodestep.measure.SettledReading;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import lodestep.quantity.TimeSpan;
import org.junit.jupiter.api.Test;

/** Figures worked out by hand: two readings of half a gauss each, seated anew twice. */
class RereadingTest {

  private static final GaugeCalibration CALIBRATION =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);

  private static final Zero ZERO = new Zero(new GaugeZero(0, 0, 50, 50), 4);

  private double thenGauss = 500;
  private double toleranceGauss = 8;
  private double targetGauss = Double.NaN;
  private double takesGauss;
  private double perKelvin;
  private boolean gainShared = true;

  private Rereading reads(double gauss, double degC) {
    Accepted accepted =
        new Accepted(
            17,
            FluxDensity.ofGauss(thenGauss),
            FluxDensity.ofGauss(0.5),
            gainShared,
            Temperature.ofDegC(20),
            FluxDensity.ofGauss(Double.isNaN(targetGauss) ? thenGauss : targetGauss),
            FluxDensity.ofGauss(toleranceGauss),
            new TimeSpan(86_400 * 30),
            FluxDensity.ofGauss(takesGauss),
            perKelvin,
            0.5 * Math.abs(perKelvin),
            Seating.USUAL);
    SettledReading read =
        new SettledReading(FluxDensity.ofGauss(gauss), FluxDensity.ofGauss(0.5), 40, 40);
    return Rereading.of(accepted, read, CALIBRATION, ZERO, degC);
  }

  @Test
  void countsBothReadingsAndBothSeatingsAndNoSharedGain() {
    // sqrt(0.5² + 0.5² + 2 (0.0015 · 500)²) = sqrt(0.5 + 1.125)
    assertThat(reads(500, 20).uncertainty().gauss()).isCloseTo(1.2748, within(0.0005));
  }

  @Test
  void countsTheGainWhereTheGaugeWasCalibratedAnew() {
    gainShared = false;
    // and 0.001 · 500 of the new reading: sqrt(1.625 + 0.25)
    assertThat(reads(500, 20).uncertainty().gauss()).isCloseTo(1.3693, within(0.0005));
  }

  @Test
  void isKeptInsideItsDoubtAndMovedBeyondIt() {
    assertThat(reads(498, 20).finding()).isEqualTo(Finding.KEPT);
    assertThat(reads(497.3, 20).finding()).isEqualTo(Finding.MOVED);
    assertThat(reads(502.7, 20).finding()).isEqualTo(Finding.MOVED);
    assertThat(reads(498, 20).words()).contains("2.0 G weaker", "30 days before", "± 2.5 G");
  }

  @Test
  void isJudgedByItsSizeOnEitherPole() {
    thenGauss = -500;

    assertThat(reads(-495, 20).difference().gauss()).isCloseTo(-5, within(1e-9));
    assertThat(reads(-495, 20).words()).contains("5.0 G weaker");
    assertThat(reads(-505, 20).words()).contains("5.0 G stronger");
  }

  /** Near nothing there is no weaker: which way it has gone is told by the pole. */
  @Test
  void tellsWhichWayAnUnchargedMagnetHasGone() {
    thenGauss = 0.1;
    targetGauss = 0.0;
    toleranceGauss = 5;

    assertThat(reads(-0.8, 20).words()).contains("0.9 G more to south").doesNotContain("weaker");
    assertThat(reads(0.9, 20).words()).contains("0.8 G more to north").doesNotContain("stronger");
  }

  @Test
  void tellsWhichWayAMagnetHasGoneThatTurnedOver() {
    assertThat(reads(-20, 20).words()).contains("520.0 G more to south");
    thenGauss = -500;
    assertThat(reads(20, 20).words()).contains("520.0 G more to north");
  }

  @Test
  void hasNotMovedByWhatTimeAloneTakes() {
    takesGauss = 4;

    assertThat(reads(496, 20).finding()).isEqualTo(Finding.KEPT);
    assertThat(reads(500, 20).finding()).isEqualTo(Finding.MOVED);
  }

  @Test
  void isComparedAtEqualTemperature() {
    perKelvin = -2e-4;
    // 20 K warmer takes 0.4 per cent for the time being: 498 G there are 500 G at 20 °C.
    assertThat(reads(498, 40).difference().gauss()).isCloseTo(0, within(0.01));
    assertThat(reads(498, 40).finding()).isEqualTo(Finding.KEPT);
    // How well the coefficient is known counts: 1e-4 · 20 K · 500 G = 1 G more.
    assertThat(reads(498, 40).uncertainty().gauss()).isGreaterThan(1.6);
  }

  @Test
  void cannotTellWhereAMoveOutOfTheToleranceWouldNotShow() {
    toleranceGauss = 2.5;

    assertThat(reads(499, 20).finding()).isEqualTo(Finding.CANNOT_TELL);
    assertThat(reads(499, 20).words()).contains("would not show");
    // One that has moved by more than the doubt is told all the same.
    assertThat(reads(490, 20).finding()).isEqualTo(Finding.MOVED);
  }

  @Test
  void lightsTheLampOfAGoodOneForAKeptOneAlone() {
    toleranceGauss = 2.5;

    assertThat(reads(499, 20).finish().verdict()).isEqualTo(Verdict.REFUSED);
    toleranceGauss = 8;
    assertThat(reads(499, 20).finish().verdict()).isEqualTo(Verdict.ACCEPTED);
    assertThat(reads(490, 20).finish().verdict()).isEqualTo(Verdict.REFUSED);
    assertThat(reads(496, 20).words()).endsWith("still inside its tolerance");
    assertThat(reads(490, 20).words()).endsWith("dial it again");
  }

  @Test
  void saysInAWordWhatWasFound() {
    assertThat(reads(498, 20).finish().why()).startsWith("kept: it reads 498.0 G");
    assertThat(reads(490, 20).finish().why()).startsWith("moved: it reads 490.0 G");
    toleranceGauss = 2.5;
    assertThat(reads(499, 20).finish().why()).startsWith("cannot tell: it reads 499.0 G");
  }

  /** Of what read exactly nothing a difference counts as the gauge does: north is above zero. */
  @Test
  void countsADifferenceFromExactlyNothingAsTheGaugeDoes() {
    thenGauss = 0;
    toleranceGauss = 5;

    assertThat(reads(3, 20).difference().gauss()).isCloseTo(3, within(1e-9));
    assertThat(reads(3, 20).words()).contains("3.0 G more to north");
    assertThat(reads(-3, 20).difference().gauss()).isCloseTo(-3, within(1e-9));
    assertThat(reads(-3, 20).words()).contains("3.0 G more to south");
  }
}
