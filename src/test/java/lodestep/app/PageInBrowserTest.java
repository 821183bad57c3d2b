package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.Keys;

/**
 * Goal: a winder works a whole batch on the page by touch, and the page never says more than is so.
 * Method: Debian's Chromium on a virtual rig in this process, whose time passes quickly. A picture
 * of every screen is kept under {@code target/screens}.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class PageInBrowserTest {

  private static final double QUICK = 8;

  /** As slow as it takes for a finger to come between. */
  private static final double SLOW = 2;

  private static final List<String> SCREENS =
      List.of("now", "batch", "magnets", "voice", "gauge", "rig");

  @SuppressWarnings("NullAway.Init")
  @TempDir
  private Path folder;

  private Browser browser;

  @BeforeAll
  void openBrowser(@TempDir Path profile) {
    browser = Browser.open(profile);
  }

  @AfterAll
  void closeBrowser() {
    browser.close();
  }

  /** While the rig is still there: one that has gone leaves its open page without an answer. */
  private void leave() {
    assertThat(browser.errors()).isEmpty();
    browser.go("about:blank");
  }

  @AfterEach
  void forgetErrors() {
    browser.errors();
  }

  private static void plan(Browser at, int count) {
    at.tap("nav a[href='#batch']");
    at.type("#plan-name", "wren");
    at.type("#plan-size", "4.7 x 17.2 mm");
    at.type("#plan-target", "520 G");
    at.type("#plan-tolerance", "12 G");
    at.type("#plan-count", Integer.toString(count));
    at.tap("[data-act='begin']");
    at.awaitPhase("load");
  }

  @Test
  void worksAWholeBatchByTouch() throws IOException {
    browser.screen(1280, 800, false);
    try (Served served = ServedRig.at(folder.resolve("a.ledger"), QUICK)) {
      browser.go(ServedRig.pairing(served));
      browser.awaitPhase("idle");
      browser.picture("now-idle");
      plan(browser, 2);
      browser.awaitText("#left", "to go in this batch, by the pulses expected");
      browser.picture("batch-load");
      browser.tap("nav a[href='#now']");
      for (int magnet = 1; magnet <= 2; magnet++) {
        browser.tap("[data-hand='all']");
        browser.awaitPhase("work");
        browser.awaitText("main", "is to come to 520.0 G");
        browser.picture("now-work-" + magnet);
        browser.awaitPhase("verdict");
        browser.awaitText("#sentence", "wren." + magnet + " accepted");
        browser.picture("now-verdict-" + magnet);
      }
      browser.tap("[data-hand='lid']");
      browser.tap("[data-hand='magnet']");
      browser.awaitPhase("done");
      browser.tap("nav a[href='#batch']");
      browser.awaitText("main", "2 accepted, 0 not accepted, 0 to go");
      browser.awaitShown("[data-recent='0']");
      browser.picture("batch-done");
      lookAtTheRecord();
      leave();
    }
  }

  private void lookAtTheRecord() throws IOException {
    browser.tap("nav a[href='#magnets']");
    browser.awaitText("main", "2 found");
    browser.picture("magnets");
    browser.tap("main li a");
    browser.awaitText("main", "All that is on record");
    browser.awaitText("main", "Knock down");
    browser.picture("magnet");
    browser.tap("nav a[href='#gauge']");
    browser.type("#aim", "520");
    browser.awaitText("main", "below by");
    browser.picture("gauge");
    browser.tap("nav a[href='#rig']");
    browser.awaitText("main", "written through to entry");
    browser.picture("rig");
  }

  @Test
  void tellsOfALidOpenedInMidBatchAndGoesOnAfterTheKey() throws IOException {
    browser.screen(1024, 768, false);
    try (Served served = ServedRig.at(folder.resolve("lid.ledger"), SLOW)) {
      browser.go(ServedRig.pairing(served));
      browser.awaitPhase("idle");
      plan(browser, 1);
      browser.tap("nav a[href='#now']");
      browser.tap("[data-hand='all']");
      browser.awaitText("#sentence", "charging");
      browser.tap("[data-hand='lid']");
      browser.awaitPhase("tripped");
      browser.awaitText("#sentence", "The lid was opened");
      browser.awaitText("main", "TRIPPED");
      assertThat(browser.barriers()).as("axe, tripped").isEmpty();
      browser.picture("now-tripped");
      browser.tap("[data-hand='lid']");
      browser.awaitText("[data-hand='lid']", "Open the lid");
      browser.tap("[data-hand='key']");
      browser.awaitText("[data-hand='key']", "Turn the key on");
      browser.tap("[data-hand='key']");
      browser.awaitPhase("resume");
      browser.tap("[data-act='continue']");
      browser.awaitPhase("load");
      browser.tap("[data-hand='all']");
      browser.awaitPhase("work");
      leave();
    }
  }

  @Test
  void findsTheBatchAgainWhenThePageWasClosed() {
    browser.screen(1024, 768, false);
    try (Served served = ServedRig.at(folder.resolve("again.ledger"), QUICK)) {
      browser.go(ServedRig.pairing(served));
      browser.awaitPhase("idle");
      plan(browser, 1);
      browser.tap("[data-hand='all']");
      browser.awaitPhase("work");
      browser.go("about:blank");
      browser.go(ServedRig.page(served));
      browser.awaitPhase("verdict");
      browser.tap("nav a[href='#batch']");
      browser.awaitText("main", "1 accepted, 0 not accepted, 0 to go");
      leave();
    }
  }

  @Test
  void saysThatItIsOldWhenTheRigIsGoneAndGoesOnWhenItIsBack() throws IOException {
    browser.screen(1024, 768, false);
    Path ledger = folder.resolve("killed.ledger");
    ServedProcess killed = ServedProcess.start(ledger, 0);
    try {
      browser.go(killed.pairing());
      browser.awaitPhase("idle");
      plan(browser, 2);
    } finally {
      killed.kill();
    }
    browser.awaitOld(true);
    assertThat(browser.text("#sentence")).contains("This page is old");
    assertThat(browser.count("main button:not(:disabled), #ask button:not(:disabled)")).isZero();
    assertThat(browser.shows("#stop:not(:disabled)")).isTrue();
    browser.picture("old");
    ServedProcess again = ServedProcess.start(ledger, killed.port());
    try {
      browser.awaitOld(false);
      browser.tap("[data-act='resume']");
      browser.awaitPhase("load");
      browser.tap("nav a[href='#batch']");
      browser.awaitText("main", "0 accepted, 0 not accepted, 2 to go");
      browser.go("about:blank");
    } finally {
      again.kill();
    }
  }

  @Test
  void showsTwoPeopleTheSameAndLetsTheOneWhoLooksStop(@TempDir Path other) {
    browser.screen(1024, 768, false);
    try (Browser second = Browser.open(other);
        Served served = ServedRig.at(folder.resolve("two.ledger"), QUICK)) {
      second.screen(390, 800, true);
      browser.go(ServedRig.pairing(served));
      second.go(ServedRig.page(served));
      second.type("#code", served.access().lookCode());
      second.press(Keys.ENTER);
      second.awaitPhase("idle");
      plan(browser, 1);
      second.awaitPhase("load");
      assertThat(second.text("#sentence")).isEqualTo(browser.text("#sentence"));
      assertThat(second.shows("[data-hand], [data-act]")).isFalse();
      browser.tap("[data-act='pause']");
      second.awaitPhase("paused");
      second.tap("#stop");
      browser.awaitPhase("tripped");
      browser.awaitText("#sentence", "Stop was asked");
      second.awaitText("#stop", "confirmed");
      second.go(ServedRig.pairing(served));
      second.awaitShown("[data-hand='key']");
      assertThat(second.errors())
          .as("but for the one question who this is, before it was paired")
          .allMatch(error -> error.contains("/api/v1/session"));
      second.go("about:blank");
      leave();
    }
  }

  @Test
  void fitsAPhoneAndAWallAndIsInNobodysWay() throws IOException {
    try (Served served = ServedRig.at(folder.resolve("phone.ledger"), QUICK)) {
      browser.screen(320, 640, true);
      browser.go(ServedRig.pairing(served));
      browser.awaitPhase("idle");
      looksRight("phone");
      browser.screen(1280, 800, false);
      looksRight("");
      plan(browser, 1);
      browser.screen(360, 740, true);
      looksRight("phone-load");
      browser.screen(3840, 2160, false);
      looksRight("wall-load");
      leave();
    }
  }

  private void looksRight(String kept) throws IOException {
    for (String screen : SCREENS) {
      browser.script("location.hash = arguments[0]", screen);
      browser.awaitShown("nav a[aria-current][href='#" + screen + "']");
      browser.awaitShown("main section");
      assertThat(browser.barriers()).as("axe on " + screen + " " + kept).isEmpty();
      assertThat(browser.script("return document.scrollingElement.scrollWidth <= innerWidth"))
          .as("nothing beyond the right edge of " + screen + " " + kept)
          .isEqualTo(true);
      assertThat(browser.tooSmall()).as("for gloves, " + screen + " " + kept).isEmpty();
      if (!kept.isEmpty()) {
        browser.picture(kept + "-" + screen);
      }
    }
  }

  @Test
  void isWorkedByTheKeyboardAlone() {
    browser.screen(1024, 768, false);
    try (Served served = ServedRig.at(folder.resolve("keys.ledger"), QUICK)) {
      browser.go(ServedRig.pairing(served));
      browser.awaitPhase("idle");
      plan(browser, 1);
      boolean reached = false;
      for (int step = 0; step < 40 && !reached; step++) {
        browser.press(Keys.TAB);
        reached = browser.focused().equals("all");
      }
      assertThat(reached).as("the drawn hands by the tabulator").isTrue();
      browser.press(Keys.ENTER);
      browser.awaitPhase("work");
      browser.press(Keys.ESCAPE);
      browser.awaitPhase("tripped");
      leave();
    }
  }

  @Test
  void keepsAPlanThatIsBeingTypedThroughEachSwitchAndALookElsewhere() {
    browser.screen(1024, 768, false);
    try (Served served = ServedRig.at(folder.resolve("draft.ledger"), SLOW)) {
      browser.go(ServedRig.pairing(served));
      browser.awaitPhase("idle");
      browser.tap("nav a[href='#batch']");
      browser.type("#plan-name", "siskin");
      browser.type("#plan-target", "430 G");
      browser.choose("[aria-label='Unit of flux density']", "mT");
      browser.choose("[aria-label='Light or dark']", "dark");
      assertThat(browser.focused()).as("the switch keeps the keyboard").contains("dark");
      assertThat(browser.value("#plan-name")).isEqualTo("siskin");
      browser.tap("nav a[href='#rig']");
      browser.awaitText("main", "Ledger");
      browser.tap("nav a[href='#batch']");
      assertThat(browser.value("#plan-name")).isEqualTo("siskin");
      assertThat(browser.value("#plan-target")).isEqualTo("430 G");
      browser.script("localStorage.clear()");
      leave();
    }
  }

  /** What the rig says, told by a bundle of another language that has two of its forms. */
  private static final String TOLD =
      "const said = arguments[0];"
          + "return Promise.all([import('/page/words.js'), fetch('/page/words.en.json')])"
          + ".then(async ([words, bundle]) => words.teller(await bundle.json(), {"
          + "'says.work.pause': 'dann Pause; {name}: {what}',"
          + "'says.knocking': 'Gegenfeld {field}'})(said))";

  /** A slip of the unit spoils a magnet, and a switch or a screen reader sends a click alone. */
  @Test
  void keepsTheUnitThatWasTypedAndStopsAtABareClick() {
    browser.screen(1024, 768, false);
    try (Served served = ServedRig.at(folder.resolve("unit.ledger"), SLOW)) {
      browser.go(ServedRig.pairing(served));
      browser.awaitPhase("idle");
      browser.tap("nav a[href='#batch']");
      browser.type("#plan-target", "60 mT");
      browser.tap("#plan-target + button");
      browser.type("#plan-tolerance", "2 %");
      browser.tap("#plan-tolerance + button");
      assertThat(browser.value("#plan-target")).isEqualTo("70 mT");
      assertThat(
              browser.script(TOLD, "teal-1: knocking down with 21 kA/m; pauses after this magnet"))
          .as("as another bundle has it, part for part")
          .isEqualTo("dann Pause; teal-1: Gegenfeld 21 kA/m");
      assertThat(browser.script(TOLD, "what no bundle knows")).isEqualTo("what no bundle knows");
      assertThat(browser.value("#plan-tolerance")).isEqualTo("3 %");

      plan(browser, 1);
      browser.tap("[data-hand='all']");
      browser.awaitPhase("work");
      browser.script("document.querySelector('#stop').click()");
      browser.awaitPhase("tripped");
      leave();
    }
  }
}
