package lodestep.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.ledger.MagnetHistory;
import lodestep.paper.AskedWords;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;

/** Goal: a figure stands in the history only where something was measured. */
class HistoryTableTest {

  private static final ActEvent.PulseIntended INTENT =
      new ActEvent.PulseIntended(
          6, 1, 1, "charge", false, true, 32_000, 32_060, 613_000, 87_600, "rod coil");

  private static ActEvent.PulseEnded ended(String outcome, long bank, long peak, String why) {
    return new ActEvent.PulseEnded(
        11, 6, outcome, 3, 7, bank, bank / 9, 0, peak, peak / 100, 2_150, why);
  }

  @Test
  void showsBankAndPeakOfThePulsesOwnSign() {
    PulseFigures figures =
        PulseFigures.of(INTENT, Optional.of(ended("delivered", 31_980, 87_730, "")));

    assertThat(figures).isEqualTo(new PulseFigures("31.98 V", "87.73 A"));
  }

  @Test
  void showsNoFiguresOfAPulseWithoutAReport() {
    PulseFigures blank = new PulseFigures("", "");

    assertThat(PulseFigures.of(INTENT, Optional.empty())).isEqualTo(blank);
    assertThat(PulseFigures.of(INTENT, Optional.of(ended("unknown", 0, 0, "the program ended"))))
        .isEqualTo(blank);
  }

  @Test
  void showsNoReadingOfAnAttemptThatEndedUnread() {
    String unread = String.join("\n", HistoryTable.of(history(0, 0)).lines());
    String read = String.join("\n", HistoryTable.of(history(-43_200, 45_000)).lines());

    assertThat(unread).contains("tripped").doesNotContain(" G");
    assertThat(read).contains("tripped").contains("-432.0 G");
  }

  /** Twice what is not known of the level: it may not be read out of the reading beside it. */
  @Test
  void saysByWhatGuardBandAMagnetWasJudged() {
    LedgerEvent.VerdictGiven accepted =
        new LedgerEvent.VerdictGiven(
            6, 1, "accepted", 43_100, 90_000, 43_000, 800, 231_000, 1, 2, 0, "inside");

    assertThat(String.join("\n", HistoryTable.of(history(accepted)).lines()))
        .contains("inside; guard band 2.31 G");
  }

  private static MagnetHistory history(long microTesla, long nanoTesla) {
    return history(
        new LedgerEvent.VerdictGiven(
            6, 1, "tripped", microTesla, nanoTesla, 0, 0, 0, 0, 0, 0, "the lid was opened"));
  }

  private static MagnetHistory history(LedgerEvent.VerdictGiven verdict) {
    MagnetHistory.Happening end =
        new MagnetHistory.Happening(12, Instant.EPOCH, 1, new MagnetHistory.What.Verdict(verdict));
    return new MagnetHistory(6, named(), Instant.EPOCH, List.of(end));
  }

  @Test
  void namesItsColumnByWhatAllActsWereMadeWith() {
    ActEvent.Intent stroke =
        new ActEvent.StrokeIntended(6, 1, 2, "knock down", true, 61_000, 9_200, 51_000);

    assertThat(heading(List.of(INTENT))).contains(" bank ");
    assertThat(heading(List.of(stroke, stroke))).contains(" jig ").doesNotContain("bank");
    assertThat(heading(List.of(INTENT, stroke))).contains(" setting ").doesNotContain("bank");
    assertThat(heading(List.of())).contains(" setting ");
  }

  private static String heading(List<ActEvent.Intent> intents) {
    List<MagnetHistory.Happening> acts = new ArrayList<>();
    for (ActEvent.Intent intent : intents) {
      MagnetHistory.What act = new MagnetHistory.What.Acted(intent, Optional.empty());
      acts.add(new MagnetHistory.Happening(11 + acts.size(), Instant.EPOCH, 1, act));
    }
    return HistoryTable.of(new MagnetHistory(6, named(), Instant.EPOCH, acts)).lines().get(0);
  }

  @Test
  void saysWhatWasAskedOfAMagnet() {
    assertThat(AskedWords.of(named()))
        .isEqualTo("alnico 5 rod 4.90 x 16.50 mm, pole up south, target -430.0 G ± 8.0 G");
    assertThat(AskedWords.of(asked("down-by", 0, 120_000, 0, 25_000, 0)))
        .endsWith("target down 12 % ± 2.5 %");
    assertThat(AskedWords.of(asked("down-by", 3_100, 0, 700, 0, 0)))
        .endsWith("target down 31.0 G ± 7.0 G");
    assertThat(AskedWords.of(asked("demagnetise", 0, 0, 0, 0, 500)))
        .endsWith("target demagnetise, within 5.0 G");
  }

  private static LedgerEvent.MagnetNamed named() {
    return asked("level", 0, 0, 800, 0, 0);
  }

  private static LedgerEvent.MagnetNamed asked(
      String task, long drop, long dropParts, long tolerance, long toleranceParts, long limit) {
    return new LedgerEvent.MagnetNamed(
        5,
        "wren-3",
        2,
        1,
        "",
        "",
        "alnico 5",
        "rod",
        List.of(4_900L, 16_500L),
        "rod nest",
        "south",
        task,
        task.equals("level") ? -43_000 : 0,
        drop,
        dropParts,
        tolerance,
        toleranceParts,
        limit);
  }
}
