package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: the gauge is checked on the page by touch, and its chart is seen there. Method: Debian's
 * Chromium on a virtual rig in this process whose record has earlier checks. A picture of the
 * screen is kept under {@code target/screens}.
 */
class PageGaugeInBrowserTest {

  private static final double QUICK = 8;
  private static final int CHECKED_BEFORE = 8;

  @Test
  void checksTheGaugeByTouchAndShowsItsChart(@TempDir Path folder, @TempDir Path profile)
      throws IOException {
    Path ledger = folder.resolve("gauge.ledger");
    for (int check = 1; check <= CHECKED_BEFORE; check++) {
      CommandRun.on(ledger, "gauge", "check", "--seed", String.valueOf(check));
    }
    Browser browser = Browser.open(profile);
    try (Served served = ServedRig.at(ledger, QUICK)) {
      browser.screen(1280, 800, false);
      browser.go(ServedRig.pairing(served));
      browser.awaitPhase("idle");
      browser.tap("nav a[href='#gauge']");
      browser.awaitText("main", "In control.");
      browser.awaitShown("[data-reference] canvas");
      looksRight(browser);
      browser.tap("[data-act='check']");
      browser.awaitPhase("guided");
      browser.awaitText("#sentence", "empty");
      browser.tap("[data-hand='all']");
      browser.awaitText("#sentence", "Put the reference");
      browser.tap("[data-hand='all']");
      browser.awaitText("#sentence", "The gauge is in control.");
      browser.picture("gauge-checked");
      browser.tap("nav a[href='#gauge']");
      browser.awaitText("main", "In control.");
      assertThat(
              browser.script(
                  "return document.querySelector('[data-reference] .plot')"
                      + ".getAttribute('aria-label')"))
          .asString()
          .startsWith((CHECKED_BEFORE + 1) + " readings");
      assertThat(browser.errors()).isEmpty();
    } finally {
      browser.close();
    }
  }

  private static void looksRight(Browser browser) throws IOException {
    browser.screen(1280, 2200, false);
    browser.picture("gauge-record");
    assertThat(browser.barriers()).as("axe").isEmpty();
    for (int width : List.of(320, 390)) {
      browser.screen(width, 700, true);
      assertThat(browser.script("return document.scrollingElement.scrollWidth <= innerWidth"))
          .as("nothing beyond the right edge at " + width)
          .isEqualTo(true);
      assertThat(browser.tooSmall()).as("for gloves at " + width).isEmpty();
      browser.picture("gauge-record-" + width);
    }
    browser.screen(1280, 800, false);
  }
}
