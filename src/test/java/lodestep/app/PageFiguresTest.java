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
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lodestep.adapter.serial.Polling;
import lodestep.scan.LatenessHistogram;
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
  void measuresWhatPagesAndRequestsMoveTheScanBy(@TempDir Path folder) throws Exception {
    try (Served served = ServedRig.at(folder.resolve("busy.ledger"), 1)) {
      Lasting.forSeconds(WARM_SECONDS);
      Counts before = Counts.of(served);
      Lasting.forSeconds(BUSY_SECONDS);
      Counts alone = Counts.of(served).since(before);
      long answered;
      Counts begun;
      Counts busy;
      try (PageCrowd crowd = PageCrowd.of(served, PAGES, REQUESTS_PER_SECOND)) {
        Lasting.forSeconds(WARM_SECONDS);
        begun = Counts.of(served);
        long from = crowd.answered();
        Lasting.forSeconds(BUSY_SECONDS);
        answered = crowd.answered() - from;
        busy = Counts.of(served).since(begun);
      }

      assertThat(alone.scans()).isPositive();
      assertThat(busy.scans()).isPositive();
      say(
          "scan late by, p99.9: alone %.2f ms of %d scans, with %d pages and %d requests/s %.2f ms"
              + " of %d scans",
          alone.lateMs(0.999),
          alone.scans(),
          PAGES,
          answered / BUSY_SECONDS,
          busy.lateMs(0.999),
          busy.scans());
    }
  }

  /** Pages open and close all the while; what they held is given back each time. */
  @Test
  void keepsHeapThreadsAndDescriptorsFlatWhilePagesComeAndGo(@TempDir Path folder)
      throws Exception {
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

  /** How many scans were late by how much, class by class. */
  private record Counts(List<Long> scansByClass) {

    static Counts of(Served served) {
      LatenessHistogram histogram = served.bench().scan().histogram();
      return new Counts(
          IntStream.range(0, LatenessHistogram.CLASSES).mapToObj(histogram::count).toList());
    }

    Counts since(Counts before) {
      return new Counts(
          IntStream.range(0, scansByClass.size())
              .mapToObj(at -> scansByClass.get(at) - before.scansByClass().get(at))
              .toList());
    }

    long scans() {
      return scansByClass.stream().mapToLong(Long::longValue).sum();
    }

    /** So late or less was this part of them; straight between the bounds of a class. */
    double lateMs(double part) {
      double left = part * scans();
      for (int at = 0; at < scansByClass.size(); at++) {
        double here = scansByClass.get(at);
        double low = at == 0 ? 0 : LatenessHistogram.belowNs(at - 1);
        if (left <= here) {
          return 1e-6 * (low + left / Math.max(1, here) * (LatenessHistogram.belowNs(at) - low));
        }
        left -= here;
      }
      return Double.POSITIVE_INFINITY;
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
