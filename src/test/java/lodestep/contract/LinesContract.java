package lodestep.contract;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import lodestep.port.InputLine;
import lodestep.port.Lines;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import org.junit.jupiter.api.Test;

/** What all lines do, those of the virtual rig and those of a board alike. */
public abstract class LinesContract {

  /** What a hand at the bench moves; all other contacts follow from relays and magnets. */
  private static final List<InputLine> HANDLES =
      List.of(
          InputLine.LID_A,
          InputLine.LID_B,
          InputLine.STOP_LOOP,
          InputLine.ARM_KEY,
          InputLine.START_PEDAL);

  private static final Outputs EVERYTHING = Outputs.high(OutputLine.values());

  /** The lines under test, just opened; the same ones on every call within a test. */
  protected abstract Lines lines();

  /** Moves a contact of the bench and lets the lines see it. */
  protected abstract void move(InputLine line, boolean closed);

  /** The levels that stand at the outputs, seen from outside. */
  protected abstract Outputs standing();

  @Test
  void startsWithEveryOutputLow() {
    lines();

    assertThat(standing()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void drivesAndReadsBackEachOutputAlone() {
    for (OutputLine line : OutputLine.values()) {
      Outputs alone = Outputs.high(line);

      assertThat(lines().drive(alone)).isEqualTo(alone);
      assertThat(standing()).isEqualTo(alone);
    }
  }

  @Test
  void lowersWhatIsNoLongerAsked() {
    assertThat(lines().drive(EVERYTHING)).isEqualTo(EVERYTHING);
    assertThat(standing()).isEqualTo(EVERYTHING);

    assertThat(lines().drive(Outputs.ALL_LOW)).isEqualTo(Outputs.ALL_LOW);
    assertThat(standing()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void readsEachHandleAsItStandsNow() {
    for (InputLine line : HANDLES) {
      move(line, true);
      assertThat(lines().read(1L).closed(line)).as(line + " closed").isTrue();

      move(line, false);
      assertThat(lines().read(2L).closed(line)).as(line + " open").isFalse();
    }
  }

  @Test
  void givesTheContactsTheTimeOfTheScan() {
    assertThat(lines().read(77L).readAtNs()).isEqualTo(77L);
  }

  @Test
  void isLowOnceClosedAndRaisesNothingAfterwards() {
    lines().drive(EVERYTHING);

    lines().close();

    assertThat(standing()).isEqualTo(Outputs.ALL_LOW);
    assertThat(lines().drive(EVERYTHING)).isEqualTo(Outputs.ALL_LOW);
    assertThat(standing()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void closesTwice() {
    lines().close();
    lines().close();

    assertThat(standing()).isEqualTo(Outputs.ALL_LOW);
  }
}
