package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import lodestep.adapter.serial.Polling;
import lodestep.cli.Refusal;
import lodestep.config.HeadConfig;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: the page is served of a virtual rig whose head is on a serial line, over real bytes, and
 * the line is gone afterwards; in a home where nothing was yet. Method: a pseudo-terminal that the
 * program lays itself.
 */
class PageOverALineTest {

  private final Path folder;
  private final Path port;
  private final RigConfig rig;

  PageOverALineTest(@TempDir Path folder) {
    this.folder = folder;
    this.port = folder.resolve("head");
    this.rig =
        ReferenceRig.virtual().with(new HeadConfig.SerialHead(port.toString(), "BENCH-0001"));
  }

  private Served served(double speed) {
    return ServedRig.at(folder.resolve("home/lodestep/line.ledger"), speed, rig);
  }

  @Test
  void readsLiveOverRealBytesAndTakesTheLineAway() throws IOException {
    try (Served served = served(1)) {
      PageDevice page = PageDevice.paired(served.port(), served.access().prepareCode());
      Polling.until(
          "an open link with a reading",
          () ->
              now(page).at("/head/words").asText().endsWith(" is open")
                  && now(page).at("/reading").has("tesla"));
      page.act("/api/v1/hands", PageDevice.object().put("act", "open-lid"));
      Polling.until("the lid", () -> now(page).at("/inputs/lidOpen").asBoolean());
      page.act("/api/v1/hands", PageDevice.object().put("act", "put-in"));
      Polling.until("its field", () -> Math.abs(now(page).at("/reading/tesla").asDouble()) > 5e-3);
      assertThat(Files.exists(port)).isTrue();
    }
    assertThat(Files.exists(port, LinkOption.NOFOLLOW_LINKS)).as("the line").isFalse();
  }

  private static JsonNode now(PageDevice page) {
    try {
      return page.now();
    } catch (IOException gone) {
      throw new UncheckedIOException(gone);
    }
  }

  @Test
  void leavesNothingBehindWhereTheLineCannotBeLaid() throws IOException {
    Files.writeString(port, "something else");

    assertThatThrownBy(() -> served(1))
        .isInstanceOf(Refusal.class)
        .hasMessageContaining("something is there already");

    assertThat(Files.readString(port)).isEqualTo("something else");
    assertThat(Files.exists(folder.resolve("home"))).isFalse();
  }
}
