package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import org.junit.jupiter.api.Test;

/** The program watching itself: punctuality, record, errors. */
class ProgramInterlocksTest {

  @Test
  @Provokes(TripCause.SCAN_LATE)
  void tripsWhenAScanIsLaterThanTheLimit() {
    Bench bench = Bench.ready();
    bench.lateNs = 150 * Bench.MS + 1;

    assertThat(bench.scan().tripped()).contains(TripCause.SCAN_LATE);
  }

  @Test
  @Spares(TripCause.SCAN_LATE)
  void sparesAScanExactlyAsLateAsTheLimit() {
    Bench bench = Bench.ready();
    bench.lateNs = 150 * Bench.MS;

    assertThat(bench.run(100).tripped()).isEmpty();
  }

  @Test
  void namesTheLatenessAndNotTheSilenceThatItMakes() {
    Bench bench = Bench.ready().scanToLine();
    bench.headSpeaks = false;
    bench.nowNs += 500 * Bench.MS;
    bench.lateNs = 500 * Bench.MS;

    assertThat(bench.scan().tripped()).contains(TripCause.SCAN_LATE);
    assertThat(bench.state.present(TripCause.HEAD_SILENT)).isTrue();
  }

  @Test
  void doesNotFireInAScanLaterThanItsLimit() {
    Bench bench = Bench.holding(20).scanToLine().set(HeadFlag.WINDOW, true).scanToLine();
    bench.lateNs = 20 * Bench.MS;
    boolean onTime = bench.scan().allows(OutputLine.COIL_FIRE);
    bench.lateNs++;
    boolean late = bench.scan().allows(OutputLine.COIL_FIRE);

    assertThat(onTime).isTrue();
    assertThat(late).isFalse();
    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.LEDGER_FAILED)
  void tripsWhenTheLedgerCannotBeWritten() {
    Bench bench = Bench.ready();
    bench.ledgerFault = Optional.of("the disk is full; make room");

    assertThat(bench.scan().tripped()).contains(TripCause.LEDGER_FAILED);
    assertThat(bench.firstTrip.orElseThrow().detail()).isEqualTo("the disk is full; make room");
  }

  @Test
  @Provokes(TripCause.PROGRAM_ERROR)
  void tripsWhenTheProgramHasFailed() {
    Bench bench = Bench.ready();
    bench.programFailed = true;

    assertThat(bench.scan().tripped()).contains(TripCause.PROGRAM_ERROR);
  }

  @Test
  @Provokes(TripCause.PROGRAM_ERROR)
  void tripsInTheMiddleOfAScan() {
    Bench bench = Bench.holding(20);
    InterlockStep step =
        new InterlockLogic(Bench.SETTINGS).programError(bench.state, "broken", bench.nowNs);

    assertThat(step.tripped().orElseThrow().cause()).isEqualTo(TripCause.PROGRAM_ERROR);
    assertThat(step.permission().allowed().isHigh(OutputLine.BANK_HOLD)).isFalse();
    assertThat(step.permission().permit()).isFalse();
  }

  @Test
  void keepsTheFirstCauseWhenTheProgramFailsAfterATrip() {
    Bench bench = Bench.ready();
    bench.stopAsked = true;
    bench.scan();
    InterlockStep step =
        new InterlockLogic(Bench.SETTINGS).programError(bench.state, "broken", bench.nowNs);

    assertThat(step.tripped()).isEmpty();
    assertThat(step.next().trip().orElseThrow().cause()).isEqualTo(TripCause.STOP_ASKED);
    assertThat(step.next().present(TripCause.PROGRAM_ERROR)).isTrue();
  }

  @Test
  @Spares({TripCause.LEDGER_FAILED, TripCause.PROGRAM_ERROR})
  void sparesAProgramAndALedgerInOrder() {
    assertThat(Bench.holding(30).run(5_000).tripped()).isEmpty();
  }
}
