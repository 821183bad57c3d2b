package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import lodestep.adapter.clock.SystemMonotonicClock;
import lodestep.adapter.serial.Polling;
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
  private static final int PAGES = 20;
  private static final int REQUESTS_PER_SECOND = 1000;
  private static final int WARM_SECONDS = 5;
  private static final int BUSY_SECONDS = 40;
  private static final int WAKES_MAX = 1_000_000;
  private static final int ROUNDS = 10;
  private static final int ROUND_REQUESTS = 200;
  private static final int ROUND_SECONDS = 6;

  /** What a collector leaves lying about from one look to the next. */
  private static final long HEAP_SLACK_BYTES = 8L * 1024 * 1024;

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

  /** The same run first without anybody, then with pages and requests. */
  @Test
  void measuresWhatPagesAndRequestsMoveTheScanBy(@TempDir Path folder) throws IOException {
    WatchedPace pace = new WatchedPace(new RealPace(new SystemMonotonicClock()), WAKES_MAX);
    try (Served served = ServedRig.at(folder.resolve("busy.ledger"), pace)) {
      Lasting.forSeconds(WARM_SECONDS);
      int from = pace.count();
      Lasting.forSeconds(BUSY_SECONDS);
      Lateness alone = Lateness.of(pace.between(from, pace.count()));
      long answered;
      Lateness busy;
      try (PageCrowd crowd = PageCrowd.of(served, PAGES, REQUESTS_PER_SECOND)) {
        Lasting.forSeconds(WARM_SECONDS);
        int begun = pace.count();
        long before = crowd.answered();
        Lasting.forSeconds(BUSY_SECONDS);
        answered = crowd.answered() - before;
        busy = Lateness.of(pace.between(begun, pace.count()));
      }

      assertThat(answered).isPositive();
      say("scan late by, p50 / p99 / p99.9: alone %s, %s", alone.written(), alone.worstWritten());
      say(
          "with %d pages and %d requests/s: %s, %s",
          PAGES, answered / BUSY_SECONDS, busy.written(), busy.worstWritten());
    }
  }

  /** Pages open and close all the while; what they held is given back each time. */
  @Test
  void keepsHeapThreadsAndDescriptorsFlatWhilePagesComeAndGo(@TempDir Path folder)
      throws IOException {
    try (Served served = ServedRig.at(folder.resolve("long.ledger"), 40)) {
      List<Held> held = new ArrayList<>();
      for (int round = 0; round <= ROUNDS; round++) {
        try (PageCrowd crowd = PageCrowd.of(served, PAGES, ROUND_REQUESTS)) {
          Lasting.forSeconds(ROUND_SECONDS);
          assertThat(crowd.answered()).isPositive();
        }
        Polling.until("its pages are gone", () -> served.readers() == 0);
        held.add(Held.now());
        say("after round %d: %s", round, held.get(round));
      }

      Held first = held.get(1);
      Held last = held.get(ROUNDS);
      assertThat(last.threads()).isLessThanOrEqualTo(first.threads() + 4);
      assertThat(last.descriptors()).isLessThanOrEqualTo(first.descriptors() + 4);
      assertThat(last.heapBytes()).isLessThanOrEqualTo(first.heapBytes() + HEAP_SLACK_BYTES);
    }
  }

  /** What the program holds after a collection. */
  private record Held(long heapBytes, long threads, long descriptors) {

    static Held now() throws IOException {
      System.gc();
      Runtime runtime = Runtime.getRuntime();
      try (Stream<Path> open = Files.list(Path.of("/proc/self/fd"))) {
        return new Held(
            runtime.totalMemory() - runtime.freeMemory(),
            ManagementFactory.getThreadMXBean().getThreadCount(),
            open.count());
      }
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
