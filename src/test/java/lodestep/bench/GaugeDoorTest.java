package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import lodestep.config.NestConfig;
import lodestep.ledger.GaugeRecord;
import lodestep.measure.GaugeControl;
import lodestep.measure.GaugeControl.Point;
import lodestep.measure.Seating;
import lodestep.measure.StandardUncertainty;
import lodestep.port.GaugeEvent.GaugeJudged;
import lodestep.port.GaugeEvent.ReferenceRead;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;

class GaugeDoorTest {

  private static final NestConfig ROD =
      new NestConfig("rod nest", "rod", Length.ofMm(2), "rod coil");
  private static final NestConfig BAR =
      new NestConfig("bar nest", "bar", Length.ofMm(2), "slot coil");

  private static GaugeRecord judged(boolean... inControl) {
    List<GaugeRecord.Entry<GaugeJudged>> all = new ArrayList<>();
    for (boolean good : inControl) {
      all.add(
          new GaugeRecord.Entry<>(
              all.size() + 1,
              0,
              new GaugeJudged("check rod", "rod nest", 1, good, good ? "" : "it reads 2 G off")));
    }
    return new GaugeRecord(List.of(), all, List.of());
  }

  @Test
  void newestCheckOfTheNestDecides() {
    assertThat(GaugeDoor.refusal(GaugeRecord.NONE, List.of(ROD))).isEmpty();
    assertThat(GaugeDoor.refusal(judged(true, false), List.of(ROD)).orElseThrow())
        .contains("out of control by the reference check rod (it reads 2 G off)")
        .contains("lodestep gauge check --reference \"check rod\"");
    assertThat(GaugeDoor.refusal(judged(true, false), List.of(BAR))).isEmpty();
    assertThat(GaugeDoor.refusal(judged(false, true), List.of(ROD))).isEmpty();
  }

  /** A check says something of the nest that it was made in, and that has gone with its spacer. */
  @Test
  void nestWhoseSpacerWasChangedSinceItsCheckIsHeldUpUntilItIsCheckedAgain() {
    GaugeRecord good = judged(true);
    GaugeRecord nearer =
        new GaugeRecord(List.of(read(1, 1_500), read(7, 2_000)), good.judgements(), List.of());
    GaugeRecord alike = new GaugeRecord(List.of(read(1, 2_000)), good.judgements(), List.of());

    assertThat(GaugeDoor.refusal(nearer, List.of(ROD)).orElseThrow())
        .contains("the rod nest was checked at 1.50 mm from the face and reads at 2.00 mm now")
        .contains("lodestep gauge check --reference \"check rod\"");
    assertThat(GaugeDoor.refusal(alike, List.of(ROD))).isEmpty();
    assertThat(nearer.readingsOf("check rod", ROD))
        .extracting(GaugeRecord.Entry::number)
        .containsExactly(7L);
  }

  private static GaugeRecord.Entry<ReferenceRead> read(long number, long standOff) {
    return new GaugeRecord.Entry<>(
        number,
        0,
        new ReferenceRead(
            "check rod",
            "rod nest",
            "as found",
            40_000,
            50_000,
            60,
            2_100,
            standOff,
            1,
            1,
            40_000,
            75_000,
            "2026-04-02"));
  }

  @Test
  void readingBeyondCertificateAndSeatingIsOutOfControl() {
    // By hand: 2 √(0.5² + 0.75² + (0.0015 × 400)²) G = 2.17 G.
    assertThat(control(402.1).objections()).isEmpty();
    assertThat(control(402.3).objections()).singleElement().asString().contains("off by +2.3 G");
    assertThat(control(397.7).objections()).hasSize(1);
  }

  private static GaugeControl control(double gauss) {
    return new GaugeControl(
        FluxDensity.ofGauss(400),
        StandardUncertainty.known(0.75e-4),
        Seating.usual(),
        List.of(
            new Point(
                FluxDensity.ofGauss(gauss), StandardUncertainty.known(0.5e-4), false, false)));
  }
}
