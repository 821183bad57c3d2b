package lodestep.config;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** The reference rig in code and the rig file shipped with the program are one rig. */
class ReferenceRigTest {

  @Test
  void hasTheFiguresOfTheShippedRigFile() throws IOException {
    String text;
    try (var stream = ReferenceRigTest.class.getResourceAsStream("/lodestep/rig-virtual.toml")) {
      assertThat(stream).isNotNull();
      text = new String(stream.readAllBytes(), StandardCharsets.UTF_8);
    }

    RigReading reading = RigFile.read("rig-virtual.toml", text);

    assertThat(reading).isInstanceOf(RigReading.Rig.class);
    assertThat(((RigReading.Rig) reading).config())
        .isEqualTo(ReferenceRig.virtual().readFrom(text));
  }
}
