package lodestep.device;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.protocol.HeadFrame;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: a pulse is never recorded as what it was not, even by a head that contradicts itself.
 * Method: reports on both sides of each limit, for an expected peak of 100 A.
 */
class PulseJudgementTest {

  @ParameterizedTest
  @CsvSource({
    // north, fired, forward mA, reverse mA, before mV, after mV, outcome
    "true,  true,  10000,      0, 40000,  3000, DELIVERED",
    "true,  true,   9999, 100000, 40000,  3000, MISFIRED",
    "false, true,      0,  10000, 40000,  3000, DELIVERED",
    "false, true, 100000,   9999, 40000,  3000, MISFIRED",
    "true,  false,     0,      0, 40000, 39550, NOT_FIRED",
    "true,  false,     0,      0, 40000, 39549, UNVERIFIED",
    "true,  false,     0,      0,  2000,  1930, NOT_FIRED",
    "true,  false,     0,      0,  2000,  1929, UNVERIFIED",
    "true,  false,  9999,   9999, 40000, 40000, NOT_FIRED",
    "true,  false, 10000,      0, 40000, 40000, UNVERIFIED",
    "true,  false,     0,  10000, 40000, 40000, UNVERIFIED",
  })
  void believesFiguresBeforeTheWord(
      boolean north, boolean fired, int forward, int reverse, int before, int after, Outcome is) {
    HeadFrame.PulseReport report =
        new HeadFrame.PulseReport(9, 5, 77, forward, reverse, before, after, 900, fired);

    PulseJudgement judged = PulseJudgement.of(north, 100, report);

    assertThat(judged.outcome()).isEqualTo(is);
    assertThat(judged.why().isEmpty()).isEqualTo(is == Outcome.DELIVERED);
  }
}
