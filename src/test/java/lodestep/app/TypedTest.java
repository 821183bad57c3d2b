package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import lodestep.port.Command;
import org.junit.jupiter.api.Test;

/** Goal: a typed word reaches the job, and anything else is answered with what can be typed. */
class TypedTest {

  private final List<Command> offered = new ArrayList<>();
  private final List<String> said = new ArrayList<>();

  private void type(String text, boolean room) {
    new Typed(command -> room && offered.add(command), said::add)
        .readAll(new BufferedReader(new StringReader(text)));
  }

  @Test
  void handsOverEachCommand() {
    type("continue\n Pause \n\nSTOP\nfinish", true);

    assertThat(offered)
        .containsExactly(Command.CONTINUE, Command.PAUSE, Command.STOP, Command.FINISH);
    assertThat(said).isEmpty();
  }

  @Test
  void answersAnythingElseWithWhatCanBeTyped() {
    type("fire\ncontinue now\n", true);

    assertThat(offered).isEmpty();
    assertThat(said).containsExactly(Typed.WORDS, Typed.WORDS);
  }

  @Test
  void saysWhenThereIsNoRoomForACommand() {
    type("pause\n", false);

    assertThat(said).containsExactly("'pause' was not taken; type it again");
  }
}
