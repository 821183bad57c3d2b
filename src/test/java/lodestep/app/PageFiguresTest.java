package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Measures the page in Chromium on this machine and prints what it finds: first paint, bytes, and
 * the way of a reading from the head's line to the screen. Nothing here fails by being slow.
 */
@Tag("figures")
class PageFiguresTest {

  private static final int READINGS = 600;

  /** Waits for the painting of each look, and says how old the newest reading was by then. */
  private static final String TO_SCREEN =
      """
      const [beganAt, wanted] = arguments;
      const done = arguments[arguments.length - 1];
      const ages = [];
      import('/page/link.js').then((link) => {
        link.onChange((what) => {
          if (what !== 'now' || ages.length >= wanted) return;
          const seen = link.state.now;
          requestAnimationFrame(() => setTimeout(() => {
            ages.push(Date.now() - (beganAt + seen.at) + seen.reading.ageMs);
            if (ages.length === wanted) done(ages);
          }, 0));
        });
      });
      """;

  @Test
  void measuresFirstPaintBytesAndTheWayToTheScreen(@TempDir Path folder) throws IOException {
    try (Browser browser = Browser.open(folder.resolve("profile"));
        Served served = ServedRig.at(folder.resolve("figures.ledger"), 1)) {
      browser.screen(1024, 768, false);
      PageDevice device = PageDevice.paired(served.port(), served.access().prepareCode());
      browser.go(ServedRig.pairing(served));
      browser.awaitPhase("idle");
      browser.go(ServedRig.page(served));
      browser.awaitPhase("idle");
      Object paint =
          browser.script(
              "return performance.getEntriesByName('first-contentful-paint')[0].startTime");
      Object bytes =
          browser.script(
              "return performance.getEntriesByType('resource').concat("
                  + "performance.getEntriesByType('navigation'))"
                  + ".filter(e => !e.name.includes('/api/'))"
                  + ".reduce((n, e) => n + e.transferSize, 0)");
      List<Double> ages = browser.ages(TO_SCREEN, beganAt(device), READINGS);

      assertThat(ages).hasSize(READINGS);
      say("first paint: %s ms", paint);
      say("bytes of the page, without plots: %s", bytes);
      say(
          "reading to screen: p50 %.0f ms, p99 %.0f ms, of %d",
          ages.get(READINGS / 2), ages.get(READINGS * 99 / 100), READINGS);
    }
  }

  /** When the server's time began, by the wall clock: from the quickest of some answers. */
  private static double beganAt(PageDevice device) throws IOException {
    double best = Double.POSITIVE_INFINITY;
    for (int asked = 0; asked < 40; asked++) {
      JsonNode now = device.now();
      best = Math.min(best, System.currentTimeMillis() - now.path("at").asDouble());
    }
    return best;
  }

  private static void say(String format, Object... values) {
    System.out.println(String.format(Locale.ROOT, format, values));
  }
}
