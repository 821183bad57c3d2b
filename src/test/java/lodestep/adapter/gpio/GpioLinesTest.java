package lodestep.adapter.gpio;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowable;

import java.io.IOException;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import lodestep.port.InputLine;
import lodestep.port.LinesException;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Goal: whatever the board or its library does, an output is high only while it is asked for, and a
 * person is told which pin it was. Method: the library's own pretended lines, one of them made to
 * throw.
 */
class GpioLinesTest {

  private static final Outputs EVERYTHING = Outputs.high(OutputLine.values());

  private final MockBoard board = new MockBoard();

  private GpioLines all() {
    GpioLines lines = board.open(MockBoard.allPins());
    board.takeWrites();
    return lines;
  }

  @Test
  void lowersBeforeItRaisesAndTakesEnergyAwayFirst() {
    GpioLines lines = all();
    lines.drive(Outputs.high(OutputLine.BANK_HOLD, OutputLine.COIL_FULL, OutputLine.COIL_FIRE));
    board.takeWrites();

    lines.drive(Outputs.high(OutputLine.BANK_FILL, OutputLine.LAMP_READY));

    assertThat(board.takeWrites())
        .containsExactly("-COIL_FIRE", "-BANK_HOLD", "-COIL_FULL", "+LAMP_READY", "+BANK_FILL");
  }

  @Test
  void hasAnOrderForEveryOutput() {
    assertThat(GpioLines.LOWERED_IN_ORDER).containsExactlyInAnyOrder(OutputLine.values());
  }

  @Test
  void readsBackWhatStandsAtThePinNotWhatWasAsked() {
    GpioLines lines = all();
    board.shortToGround(OutputLine.BANK_FILL);

    assertThat(lines.drive(EVERYTHING)).isEqualTo(EVERYTHING.with(OutputLine.BANK_FILL, false));
  }

  @Test
  void readsBackAnOutputThatIsNotWiredAsItIsDriven() {
    GpioLines lines = board.open(MockBoard.pinsWithout("lamp_busy", "jig_enable"));

    assertThat(lines.drive(EVERYTHING)).isEqualTo(EVERYTHING);
    assertThat(lines.drive(Outputs.ALL_LOW)).isEqualTo(Outputs.ALL_LOW);
    assertThat(board.takenOutputs()).isEqualTo(OutputLine.values().length - 2);
  }

  @ParameterizedTest
  @EnumSource(OutputLine.class)
  void lowersAllOthersAndStaysLowWhenOneOutputThrows(OutputLine broken) {
    GpioLines lines = all();
    lines.drive(EVERYTHING);
    board.breakOutput(broken, () -> new IOException("line gone"));

    Throwable thrown = catchThrowable(() -> lines.drive(EVERYTHING));

    assertThat(thrown)
        .isInstanceOf(LinesException.class)
        .hasMessageContaining("'" + GpioWords.name(broken) + "'")
        .hasMessageContaining("line gone")
        .hasMessageContaining("switch the rig's supply off");
    assertThat(board.standing()).isEqualTo(Outputs.high(broken));
    assertThatThrownBy(() -> lines.drive(EVERYTHING)).isInstanceOf(LinesException.class);
    assertThat(board.standing()).isEqualTo(Outputs.high(broken));
  }

  @Test
  void lowersEverythingWhenAnErrorComesOutOfTheLibraryAndHidesItNot() {
    GpioLines lines = all();
    lines.drive(EVERYTHING);
    StackOverflowError error = new StackOverflowError("in the library");
    board.breakOutput(OutputLine.BANK_HOLD, () -> error);

    assertThatThrownBy(() -> lines.drive(EVERYTHING)).isSameAs(error);

    assertThat(board.standing()).isEqualTo(Outputs.high(OutputLine.BANK_HOLD));
  }

  @Test
  void lowersEverythingWhenAContactCannotBeRead() {
    GpioLines lines = all();
    lines.drive(EVERYTHING);
    board.breakInput(InputLine.STOP_LOOP);

    assertThatThrownBy(() -> lines.read(1L))
        .isInstanceOf(LinesException.class)
        .hasMessageContaining("'stop_loop'")
        .hasMessageContaining("everything was lowered");

    assertThat(board.standing()).isEqualTo(Outputs.ALL_LOW);
    assertThat(lines.drive(EVERYTHING)).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void lowersAllOthersAtClosingWhenOneThrowsAnErrorAndSaysWhich() {
    GpioLines lines = all();
    lines.drive(EVERYTHING);
    board.breakOutput(OutputLine.COIL_FIRE, () -> new LinkageError("library gone"));

    assertThatThrownBy(lines::close)
        .isInstanceOf(LinesException.class)
        .hasMessageContaining("'coil_fire'");

    assertThat(board.standing()).isEqualTo(Outputs.high(OutputLine.COIL_FIRE));
  }

  @Test
  void readsEveryContactOpenOnceClosed() {
    GpioLines lines = all();
    board.contact(InputLine.STOP_LOOP, true);
    lines.close();

    assertThat(lines.read(9L).closedBits()).isZero();
  }

  @Test
  void touchesNoLineOnceClosed() {
    GpioLines lines = all();
    lines.close();
    board.raiseBehindTheBack(OutputLine.BUZZER);
    board.takeWrites();

    lines.drive(Outputs.ALL_LOW);
    lines.close();

    assertThat(board.takeWrites()).isEmpty();
  }

  @Test
  void refusesASecondThread() {
    GpioLines lines = all();
    lines.read(1L);

    assertThatThrownBy(() -> onAnotherThread(() -> lines.drive(EVERYTHING)))
        .hasRootCauseInstanceOf(IllegalStateException.class)
        .hasStackTraceContaining("belong to thread");

    assertThat(board.standing()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void closesFromAnotherThread() {
    GpioLines lines = all();
    lines.drive(EVERYTHING);

    onAnotherThread(lines::close);

    assertThat(board.standing()).isEqualTo(Outputs.ALL_LOW);
    assertThat(lines.drive(EVERYTHING)).isEqualTo(Outputs.ALL_LOW);
  }

  private static void onAnotherThread(Runnable act) {
    CompletableFuture.runAsync(act, task -> new Thread(task, "another").start()).join();
  }

  @Test
  void givesBackWhatItHadTakenWhenALineIsInUse() {
    board.occupy(InputLine.LID_B);

    assertThatThrownBy(() -> board.open(MockBoard.allPins()))
        .isInstanceOf(LinesException.class)
        .hasMessageMatching("pin \\d+ of 'lid_b' cannot be had \\(Device or resource busy\\); .*");

    assertThat(board.standing()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void refusesTheSamePinTwice() {
    Map<String, Integer> pins = new HashMap<>(MockBoard.allPins());
    pins.replaceAll((name, pin) -> name.equals("lid_b") ? MockBoard.pin("lid_a") : pin);

    assertThatThrownBy(() -> board.open(pins))
        .isInstanceOf(LinesException.class)
        .hasMessageContaining("'lid_b' cannot be had");
  }

  @Test
  void takesTheClosedLidForAMagnetWhereNoSeatContactIsWired() {
    GpioLines lines = board.open(MockBoard.pinsWithout("work_seat"));

    board.contact(InputLine.LID_A, true);
    assertThat(lines.read(1L).closed(InputLine.WORK_SEAT)).isFalse();
    board.contact(InputLine.LID_B, true);
    assertThat(lines.read(2L).closed(InputLine.WORK_SEAT)).isTrue();
  }

  @Test
  void readsTheSeatContactWhereThereIsOneWhateverTheLidDoes() {
    GpioLines lines = all();
    board.contact(InputLine.LID_A, true);
    board.contact(InputLine.LID_B, true);

    assertThat(lines.read(1L).closed(InputLine.WORK_SEAT)).isFalse();
    board.contact(InputLine.WORK_SEAT, true);
    assertThat(lines.read(2L).closed(InputLine.WORK_SEAT)).isTrue();
  }

  @Test
  void saysHowTheLinesAreDriven() {
    assertThat(all().words()).isEqualTo("pretended lines");
  }
}
