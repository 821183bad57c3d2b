package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: a winder works a whole batch on the page by touch, and the page never says more than is so.
 * Method: Debian's Chromium on a virtual rig in this process, whose time passes quickly.
 */
class PageInBrowserTest {

  private static final double QUICK = 10;

  @TempDir private static Path profile;

  private static Browser browser;

  @TempDir private Path folder;

  @BeforeAll
  static void openBrowser() {
    browser = Browser.open(profile);
  }

  @AfterAll
  static void closeBrowser() {
    browser.close();
  }

  @AfterEach
  void hasWrittenNoError() {
    assertThat(browser.errors()).isEmpty();
  }

  private void plan(int count) {
    browser.tap("nav a[href='#batch']");
    browser.type("#plan-name", "wren");
    browser.type("#plan-size", "4.7 x 17.2 mm");
    browser.type("#plan-target", "520 G");
    browser.type("#plan-tolerance", "12 G");
    browser.type("#plan-count", Integer.toString(count));
    browser.tap("[data-act='begin']");
  }

  @Test
  void worksAWholeBatchByTouch() throws IOException {
    browser.screen(1280, 800, false);
    try (Served served = ServedRig.at(folder.resolve("a.ledger"), QUICK)) {
      browser.go(ServedRig.pairing(served));
      browser.awaitPhase("idle");
      browser.picture("now-idle");
      plan(2);
      browser.awaitPhase("load");
      browser.picture("batch-load");
      browser.tap("nav a[href='#now']");
      for (int magnet = 0; magnet < 2; magnet++) {
        browser.tap("[data-hand='all']");
        browser.awaitPhase("work");
        browser.awaitText("main", "is to come to 520.0 G");
        browser.picture("now-work-" + magnet);
        browser.awaitPhase("verdict");
        browser.picture("now-verdict-" + magnet);
      }
      browser.tap("[data-hand='lid']");
      browser.tap("[data-hand='magnet']:not(:disabled)");
      browser.awaitPhase("done");
      browser.tap("nav a[href='#batch']");
      browser.awaitText("main", "2 accepted, 0 not accepted, 0 to go");
      browser.picture("batch-done");
      browser.tap("nav a[href='#magnets']");
      browser.awaitText("main", "2 found");
      browser.picture("magnets");
      browser.tap("main li a");
      browser.awaitText("main", "All that is on record");
      browser.picture("magnet");
      browser.tap("nav a[href='#gauge']");
      browser.type("#aim", "520");
      browser.picture("gauge");
      browser.tap("nav a[href='#rig']");
      browser.picture("rig");
    }
  }
}
