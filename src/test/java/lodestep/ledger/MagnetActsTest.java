package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.ActByHand;
import lodestep.port.LedgerEvent.MagnetStarted;
import org.junit.jupiter.api.Test;

/** Goal: what is told of a magnet's acts is what the record has of them, by the rig or by hand. */
class MagnetActsTest {

  private static MagnetActs acts(LedgerEvent... more) {
    List<LedgerEvent> events = new ArrayList<>(SampleEvents.twoMagnets());
    events.addAll(List.of(more));
    List<LedgerEntry> entries = SampleEvents.entries(SampleEvents.chained(ChainEnd.EMPTY, events));
    return MagnetActs.of(MagnetHistory.among(entries, 3).orElseThrow());
  }

  private static String words(MagnetActs.Row row) {
    return String.join(
        " ",
        row.attempt() + (row.byHand() ? " by hand" : ""),
        row.what(),
        level(row.beforeMicroTesla()),
        level(row.afterMicroTesla()),
        row.how());
  }

  private static String level(OptionalLong level) {
    return level.isPresent() ? String.valueOf(level.getAsLong()) : "-";
  }

  @Test
  void tellsEachActWithWhatItReadBeforeAndAfter() {
    assertThat(acts().rows().stream().map(MagnetActsTest::words))
        .containsExactly(
            "1 as found - 120 ",
            "1 charge 120 71300 ",
            "1 knock down 71300 - unverified",
            // Nothing was read in this attempt before its charge.
            "2 charge - 41200 ");
    assertThat(acts().ofAttempt(2).rows()).hasSize(1);
  }

  /** The pulse was to give 210 kA/m with 30.5 A, and 31.0 A were measured. */
  @Test
  void tellsTheFieldByTheCurrentThatWasMeasured() {
    MagnetActs.Row charge = acts().rows().get(1);

    assertThat(charge.isAct()).isTrue();
    assertThat(charge.north()).contains(true);
    assertThat(charge.fieldAperM().orElse(0)).isEqualTo(210_000 * 31_000.0 / 30_500);
    assertThat(acts().rows().get(0).fieldAperM()).isEmpty();
  }

  @Test
  void tellsWhatAPersonDidAndItsReadingOnce() {
    MagnetActs acts =
        acts(
            new MagnetStarted(3, 3, "tall nest", "by hand"),
            SampleEvents.reading(3, "as found", 41_200),
            new ActByHand(
                3,
                3,
                1,
                "knock down",
                false,
                "closer until it is down 40 G",
                41_200,
                38_700,
                4_000),
            SampleEvents.reading(3, "knocked down", 38_700),
            SampleEvents.reading(3, "read again", 38_600));

    assertThat(acts.ofAttempt(3).rows().stream().map(MagnetActsTest::words))
        .containsExactly(
            "3 as found - 41200 ",
            "3 by hand knock down 41200 38700 asked: closer until it is down 40 G",
            "3 read again - 38600 ");
  }
}
