package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.time.Instant;
import lodestep.port.ChainEnd;
import lodestep.port.Hash;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class BackupTest {

  private static final Backup NOTE =
      new Backup(
          "attic \"9\"",
          "real",
          Hash.ofHex("ab".repeat(32)),
          new ChainEnd(4_711, Hash.ofHex("cd".repeat(32))),
          "ef".repeat(32),
          61_440,
          "",
          Instant.parse("2026-06-01T02:00:00Z"),
          "1.0");

  @Test
  void readsWhatItWrote() {
    assertThat(Backup.read(NOTE.text())).isEqualTo(NOTE);
    assertThat(NOTE.text()).endsWith("}\n").hasLineCount(1);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"backup-1", "4711", "cdcdcd", "made", "Z\"", "\"rig\":", "2026-06-01T02:00:00Z"})
  void refusesANoteOfWhichAPartIsGone(String part) {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> Backup.read(NOTE.text().replaceFirst(part, "")));
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "{}", "[1]", "no note", "{\"form\":\"lodestep-backup-2\"}"})
  void refusesWhatIsNoNote(String text) {
    assertThatIllegalArgumentException().isThrownBy(() -> Backup.read(text));
  }
}
