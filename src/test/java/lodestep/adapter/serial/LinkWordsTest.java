package lodestep.adapter.serial;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class LinkWordsTest {

  private static final Path PORT = Path.of("/dev/serial/by-id/nest-head");

  @Test
  void namesTheCommandThatJoinsTheGroupOfThePort() {
    assertThat(LinkWords.denied(PORT, Optional.of("dialout")))
        .isEqualTo(
            "you may not open the head's port /dev/serial/by-id/nest-head; join its group by"
                + " 'sudo usermod -aG dialout $USER', then log in again");
  }

  @Test
  void sendsToWhoeverLooksAfterTheComputerWhenThereIsNoGroupToJoin() {
    assertThat(LinkWords.denied(PORT, Optional.empty()))
        .contains(PORT.toString(), "ask whoever looks after this computer");
  }

  @Test
  void givesTheSystemsErrorNumberWhenItKnowsNoBetter() {
    assertThat(LinkWords.notOpened(PORT, 5)).contains(PORT.toString(), "system error 5");
  }
}
