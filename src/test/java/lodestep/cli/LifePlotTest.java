package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import lodestep.ledger.LedgerEntry;
import lodestep.port.GaugeEvent.ReferenceRead;
import lodestep.port.LedgerEvent;
import lodestep.port.Plot;
import org.junit.jupiter.api.Test;

/** Goal: the life of gauge and rig is drawn over the days, as it stands on record. */
class LifePlotTest {

  private static final Instant BEGAN = Instant.parse("2030-02-03T08:00:00Z");

  private final List<LedgerEntry> entries = new ArrayList<>();

  private void after(double days, LedgerEvent event) {
    Instant wall = BEGAN.plus(Duration.ofSeconds(Math.round(days * 86_400)));
    entries.add(new LedgerEntry(entries.size() + 1, event, entries.size() * 1_000L, wall));
  }

  private static ReferenceRead read(String reference, long microTesla) {
    return new ReferenceRead(
        reference,
        "rod nest",
        "as found",
        microTesla,
        60_000,
        90,
        2_150,
        2_000,
        3,
        2,
        40_000,
        50_000,
        "2029-11-12");
  }

  private static LedgerEvent trip() {
    return new LedgerEvent.Tripped(1, "LID", "", 0);
  }

  @Test
  void gaugeIsDrawnByItsReferencesBesideTheirCertificates() {
    after(0, read("shed rod", 40_000));
    after(0.5, read("shed bar", 39_600));
    after(30, read("shed rod", 40_200));

    Plot plot = LifePlot.ofGauge(entries);

    assertThat(plot.across()).isEqualTo("days");
    assertThat(plot.curves())
        .extracting(Plot.Curve::name)
        .containsExactly("shed rod in the rod nest", "shed bar in the rod nest");
    assertThat(plot.curves().get(0).x()).containsExactly(0.0, 30.0);
    assertThat(plot.curves().get(0).y().get(1)).isCloseTo(0.5, within(1e-9));
    assertThat(plot.curves().get(1).y().get(0)).isCloseTo(-1.0, within(1e-9));
  }

  @Test
  void rigIsDrawnByWhatItHasDoneSoFarAndNeverBackwards() {
    after(0, trip());
    after(2, trip());
    after(1, trip());

    Plot.Curve trips = LifePlot.ofRig(entries).curves().get(0);

    assertThat(trips.name()).isEqualTo("trips");
    assertThat(trips.x()).containsExactly(0.0, 2.0, 2.0);
    assertThat(trips.y()).containsExactly(1.0, 2.0, 3.0);
  }

  @Test
  void manyPointsAreThinnedAndTheLastIsKept() {
    for (int at = 0; at < 9_001; at++) {
      after(at, trip());
    }

    Plot.Curve trips = LifePlot.ofRig(entries).curves().get(0);

    assertThat(trips.x()).hasSizeBetween(1_000, 2_001);
    assertThat(trips.y().get(trips.y().size() - 1)).isEqualTo(9_001.0);
  }

  @Test
  void nothingOnRecordIsSaid() {
    assertThatThrownBy(() -> LifePlot.ofGauge(entries))
        .isInstanceOf(Refusal.class)
        .hasMessage("--plot: nothing is on record that could be drawn");
  }
}
