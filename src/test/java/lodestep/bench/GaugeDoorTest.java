package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import lodestep.ledger.GaugeRecord;
import lodestep.measure.GaugeControl;
import lodestep.measure.GaugeControl.Point;
import lodestep.measure.Seating;
import lodestep.measure.StandardUncertainty;
import lodestep.port.GaugeEvent.GaugeJudged;
import lodestep.quantity.FluxDensity;
import org.junit.jupiter.api.Test;

class GaugeDoorTest {

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
    assertThat(GaugeDoor.refusal(GaugeRecord.NONE, List.of("rod nest"))).isEmpty();
    assertThat(GaugeDoor.refusal(judged(true, false), List.of("rod nest")).orElseThrow())
        .contains("out of control by the reference check rod (it reads 2 G off)")
        .contains("lodestep gauge check --reference \"check rod\"");
    assertThat(GaugeDoor.refusal(judged(true, false), List.of("bar nest"))).isEmpty();
    assertThat(GaugeDoor.refusal(judged(false, true), List.of("rod nest"))).isEmpty();
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
