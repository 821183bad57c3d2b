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
    CommandRun.on(
        ledger,
        "gauge",
        "study",
        "--guided",
        "crossed",
        "--magnets",
        "pale,dark,plain",
        "--persons",
        "first,second",
        "--tolerance",
        "12 G");
    pairs(ledger);
    Browser browser = Browser.open(profile);
    try (Served served = ServedRig.at(ledger, QUICK)) {
      browser.screen(1280, 800, false);
      browser.go(ServedRig.pairing(served));
      browser.awaitPhase("idle");
      browser.tap("nav a[href='#gauge']");
      browser.awaitText("main", "In control.");
      browser.awaitShown("[data-reference] canvas");
      browser.awaitShown("[data-crossed]");
      looksRight(browser);
      checksByTouch(browser);
      worksAMagnetByHand(browser);
      // A press that the rig was quicker than is refused, as it should be, and told as an error.
      assertThat(browser.errors())
          .filteredOn(error -> !(error.contains("/api/v1/hands") && error.contains("409")))
          .isEmpty();
    } finally {
      browser.close();
    }
  }

  private static void checksByTouch(Browser browser) throws IOException {
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
  }

  /** A rod read by the rig and by a hand gauge. */
  private static void pairs(Path ledger) {
    CommandRun.on(
        ledger,
        "hand",
        "--name",
        "teal",
        "--alloy",
        "alnico 5",
        "--size",
        "4.7 x 17.2 mm",
        "--pole-up",
        "south",
        "--target",
        "470 G",
        "--tolerance",
        "14 G");
    CommandRun.on(ledger, "gauge", "typed", "teal", "441 G south by shelf gauge");
  }

  /** From the empty nest to the verdict, each act by the one button that does what is asked. */
  private static void worksAMagnetByHand(Browser browser) throws IOException {
    browser.type("#plan-name", "siskin");
    browser.tap("input[name='alloy'][value='alnico 2'] + span");
    browser.type("#plan-size", "4.8 x 16.8 mm");
    browser.type("#plan-target", "340 G");
    browser.type("#plan-tolerance", "14 G");
    browser.tap("[data-act='begin-by-hand']");
    browser.awaitText("#cue", "Leave the nest empty");
    boolean pictured = false;
    String pressedFor = "";
    for (String phase = ""; !phase.equals("done"); ) {
      phase = browser.awaitPhase("guided", "done");
      String cue = browser.text("#cue");
      if (cue.startsWith("Charge") && !pictured) {
        pictured = true;
        handLooksRight(browser, "hand-charge");
      }
      if (cue.startsWith("Closer") && browser.count(".bar.tall:not([data-seen])") > 0) {
        browser.script("document.querySelector('.bar.tall').dataset.seen = 'yes'");
        handLooksRight(browser, "hand-closer");
      }
      String asked = browser.text("#sentence");
      // Each sentence is another state: a press for the one before would come too late.
      if (phase.equals("guided") && !cue.startsWith("Stop") && !asked.equals(pressedFor)) {
        pressedFor = asked;
        browser.script(
            "document.querySelector('[data-hand=all]:not(:disabled):not([hidden])')?.click()");
      }
    }
    browser.awaitText("#cue", "Accepted");
    handLooksRight(browser, "hand-accepted");
    browser.tap("[data-act='certificate']");
    browser.awaitText(".by-hand", "Certificate");
  }

  private static void handLooksRight(Browser browser, String name) throws IOException {
    assertThat(browser.barriers()).as("axe, " + name).isEmpty();
    browser.wholePicture(name);
    browser.screen(390, 844, true);
    assertThat(browser.tooSmall()).as("for gloves").isEmpty();
    assertThat(((Number) browser.script("return document.scrollingElement.scrollWidth")).intValue())
        .as("nothing beyond the right edge")
        .isLessThanOrEqualTo(390);
    browser.picture(name + "-390");
    browser.screen(1280, 800, false);
  }

  private static void looksRight(Browser browser) throws IOException {
    browser.screen(1280, 2200, false);
    browser.wholePicture("gauge-record");
    assertThat(browser.barriers()).as("axe").isEmpty();
    for (int width : List.of(320, 390)) {
      browser.screen(width, 700, true);
      assertThat(
              ((Number) browser.script("return document.scrollingElement.scrollWidth")).intValue())
          .as("nothing beyond the right edge at " + width)
          .isLessThanOrEqualTo(width);
      assertThat(browser.tooSmall()).as("for gloves at " + width).isEmpty();
      browser.wholePicture("gauge-record-" + width);
    }
    browser.screen(1280, 800, false);
  }
}
