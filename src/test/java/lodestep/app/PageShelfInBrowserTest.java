package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Base64;
import java.util.List;
import lodestep.adapter.paper.OutsideReader;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.Keys;

/**
 * Goal: a pickup that comes back, stock that comes in and paper that is handed over are done on the
 * page by touch. Method: Debian's Chromium on a virtual rig in this process whose record was made
 * by commands; the paper is read by another program. A picture of every screen is kept under {@code
 * target/screens}.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class PageShelfInBrowserTest {

  private static final double QUICK = 8;

  @SuppressWarnings("NullAway.Init")
  private Path folder;

  @SuppressWarnings("NullAway.Init")
  private Path made;

  @SuppressWarnings("NullAway.Init")
  private Served served;

  private Browser browser;
  private int records;
  private boolean refused;

  @BeforeAll
  void openBrowser(@TempDir Path profile, @TempDir Path work) throws IOException {
    folder = work;
    made = folder.resolve("made.ledger");
    ServedRig.record(made, folder);
    browser = Browser.open(profile);
  }

  @AfterAll
  void closeBrowser() {
    browser.close();
  }

  @BeforeEach
  void open() throws IOException {
    records++;
    refused = false;
    Path ledger = Files.copy(made, folder.resolve("shelf-" + records + ".ledger"));
    served = ServedRig.at(ledger, QUICK);
    browser.screen(1280, 800, false);
    browser.go(ServedRig.pairing(served));
    browser.awaitPhase("idle");
  }

  @AfterEach
  void leave() {
    List<String> errors = browser.errors();
    browser.go("about:blank");
    served.close();
    // A browser counts an answer that refuses as an error of its own.
    assertThat(errors).allMatch(error -> refused && error.contains("status of 4"));
  }

  private void find(String words, String kind) {
    browser.tap("nav a[href='#magnets']");
    browser.type("#find", words);
    browser.tap("[data-looked='" + words + "'] [data-kind='" + kind + "'] li a");
  }

  /** Nobody is shut out, nothing lies beyond the edge, and it is kept to be looked at. */
  private void looksRight(String name) throws IOException {
    browser.wholePicture(name);
    assertThat(browser.barriers()).as("axe on " + name).isEmpty();
    for (int width : List.of(320, 390)) {
      browser.screen(width, 700, true);
      assertThat(browser.script("return document.scrollingElement.scrollWidth <= innerWidth"))
          .as("nothing beyond the right edge of " + name + " at " + width)
          .isEqualTo(true);
      assertThat(browser.tooSmall()).as("for gloves, " + name + " at " + width).isEmpty();
      browser.wholePicture(name + "-" + width);
    }
    browser.screen(1280, 800, false);
  }

  /** The paper behind a link, as the browser gets it. */
  private Path paper(String link, String name) throws IOException {
    String coded =
        String.valueOf(
            browser.script(
                "const x = new XMLHttpRequest(); x.open('GET', arguments[0].href, false);"
                    + " x.overrideMimeType('text/plain; charset=x-user-defined'); x.send();"
                    + " return btoa([...x.responseText].map(c => String.fromCharCode("
                    + "c.charCodeAt(0) & 255)).join(''))",
                browser.awaitShown(link)));
    return Files.write(folder.resolve(name), Base64.getDecoder().decode(coded));
  }

  @Test
  void checksAPickupThatCameBackStepByStep() throws IOException, InterruptedException {
    find("dunlin", "pickups");
    browser.awaitText("main", "held against its own pole tops");
    looksRight("pickup");
    browser.type("#read-field", "33 kA/m");
    browser.tap("[data-act='return']");
    browser.awaitPhase("guided");
    browser.awaitText("#sentence", "an arm's length away");
    browser.picture("return-empty");
    browser.tap("[data-hand='all']");
    browser.awaitText("#sentence", "the top of pole 1 of 2");
    browser.tap("[data-hand='all']");
    browser.awaitText("#sentence", "the top of pole 2 of 2");
    browser.awaitText("main", "± ");
    looksRight("return-reading");
    browser.tap("[data-hand='all']");
    browser.awaitText("main", "All its pole tops are read");
    browser.tap("[data-act='judge']");
    browser.awaitText("main", "For the customer");
    browser.awaitText("main", "lost");
    looksRight("return");
    Path report = paper("a[href$='/pdf']", "return.pdf");
    assertThat(OutsideReader.text(report)).contains("VIRTUAL", "Return check of Dunlin 3");
  }

  @Test
  void goesOnWithAReadingThatWasLeftAndEndsOne() throws IOException {
    find("dunlin", "pickups");
    browser.tap("[data-act='return']");
    browser.awaitPhase("guided");
    browser.tap("[data-hand='all']");
    browser.awaitText("#sentence", "the top of pole 1 of 2");
    browser.tap("nav a[href='#now']");
    browser.awaitText("main", "spacer, of pole 1 of 2 of Dunlin 3");
    browser.awaitText("#todo", "stands with Dunlin 3 under Magnets");
    looksRight("now-reading-poles");
    find("dunlin", "pickups");
    browser.awaitText("main", "Reading Dunlin 3");
    browser.tap("[data-act='enough']");
    browser.awaitPhase("done");
    browser.awaitShown("[data-act='return']");
  }

  @Test
  void makesOutACertificateThatIsSaved() throws IOException, InterruptedException {
    find("dunlin", "sets");
    browser.awaitText("main", "Set dunlin");
    browser.tap("[data-act='certificate']");
    browser.awaitText("main", "Certificate ");
    looksRight("set");
    Path certificate = paper("main li a[href$='/pdf']", "certificate.pdf");
    assertThat(Files.readAllBytes(certificate)).startsWith(new byte[] {'%', 'P', 'D', 'F', '-'});
    assertThat(OutsideReader.text(certificate)).contains("VIRTUAL", "Certificate of set dunlin");
    Path labels = paper("a[href*='/labels/pdf']", "labels.pdf");
    assertThat(OutsideReader.text(labels)).contains("VIRTUAL", "dunlin-1");
  }

  @Test
  void takesStockInAndKeepsWhatIsTypedThroughASwitch() throws IOException {
    browser.tap("nav a[href='#magnets']");
    browser.tap("a[href='#magnets/stock']");
    browser.type("#lot-name", "M-7");
    browser.type("#lot-supplier", "Orford Castings");
    looksRight("stock");
    browser.choose("footer select", "mT");
    assertThat(browser.value("#lot-name")).isEqualTo("M-7");
    browser.choose("footer select", "G");
    refused = true;
    browser.choose("#lot-alloy", "alnico 5");
    browser.type("#lot-quantity", "many");
    browser.tap("[data-act='lot-in']");
    browser.awaitText("#told", "a whole number");
    browser.type("#lot-quantity", "40");
    browser.tap("[data-act='lot-in']");
    browser.awaitText("main", "40 magnets came in");
    browser.awaitText("main", "Reads most like");
    looksRight("lot");
  }

  @Test
  void findsWhateverHasAName() throws IOException {
    browser.tap("nav a[href='#magnets']");
    browser.awaitText("main", "6 found");
    looksRight("magnets-and-pickups");
    find("hollis", "orders");
    browser.awaitText("main", "Order Hollis 7");
    browser.awaitText("main", "built");
    looksRight("order");
    find("dunlin-1", "magnets");
    browser.awaitText("main", "All that is on record");
    looksRight("magnet-record");
  }

  /** The second magnet cannot come to what is asked of it: no such magnet reads so much. */
  private void workABatchWithOneThatIsRefused() {
    browser.tap("nav a[href='#batch']");
    browser.tap(".choice:has([value='alnico 5'])");
    browser.type("#plan-name", "reed");
    browser.type("#plan-size", "4.7 x 17.2 mm");
    browser.type("#plan-target", "520 G");
    browser.type("#plan-tolerance", "12 G");
    browser.type("#plan-set", "reeds");
    browser.type("#plan-spread", "4 %");
    browser.tap("[data-act='add-row']");
    browser.type("#plan-name", "sedge");
    browser.type("#plan-target", "845 G");
    browser.tap("[data-act='begin']");
    browser.awaitPhase("load");
    for (String name : List.of("reed", "sedge")) {
      browser.tap("[data-hand='all']");
      browser.awaitText("#sentence", name + ("reed".equals(name) ? " accepted" : " refused"));
    }
    browser.tap("[data-hand='lid']");
    browser.tap("[data-hand='magnet']");
    browser.awaitPhase("done");
  }

  @Test
  void putsAcceptedMagnetsToTheirPositionsAndSaysWhatToDoWithARefusedOne() throws IOException {
    workABatchWithOneThatIsRefused();
    browser.awaitText("main", "Sets of this batch");
    browser.awaitText("main", "1 of 2 filled as they are; spread 0.00 % of the 4.00 % it may have");
    browser.awaitText("main", "What is dialed again goes with these from ");
    browser.awaitText("main", "What to do:");
    browser.awaitText("main", "for magnets that were all accepted");
    looksRight("batch-over");
    browser.tap("[data-again='sedge']");
    assertThat(browser.value("#plan-name")).isEqualTo("sedge-again");
    assertThat(browser.value("#plan-target")).isEqualTo("845 G");
    browser.tap("[data-scrap='sedge'] summary");
    browser.type("[data-scrap='sedge'] input", "weak");
    browser.tap("[data-act='scrap']");
    browser.awaitText("main", "Sedge is scrapped, entry");
    find("sedge", "magnets");
    browser.awaitText("main", "Scrapped: weak");
  }

  private void seesEachFigureOnAPhone() {
    browser.screen(390, 700, false);
    assertThat(
            browser.script(
                "return [...document.querySelectorAll('.told td')].map(each =>"
                    + " getComputedStyle(each, '::before').content).join()"))
        .as("headings beside the figures")
        .asString()
        .contains("signal", "cents", "beats");
    assertThat(
            browser.script(
                "return [...document.querySelectorAll('.told td')].filter(each =>"
                    + " each.getBoundingClientRect().right > innerWidth).length"))
        .as("figures beyond the edge")
        .isEqualTo(0L);
    browser.screen(1280, 800, false);
    assertThat(
            browser.script(
                "return [...document.querySelectorAll('.told .wide')].filter(each =>"
                    + " each.scrollWidth > each.clientWidth).length"))
        .as("tables wider than their place")
        .isEqualTo(0L);
  }

  /** A line on which no answer comes, with the page's own patience run out at once. */
  private void saysWhyNothingCame() {
    browser.script(
        "window.kept = [fetch, setTimeout];"
            + " window.fetch = (path, {signal}) => new Promise((yes, no) =>"
            + " signal.addEventListener('abort', () => no(signal.reason)));"
            + " window.setTimeout = (run, ms) => kept[1].call(window, run, ms === 60000 ? 0 : ms)");
    browser.tap("[data-act='voice']");
    browser.awaitText("main", "No answer came from the rig's computer within 60 seconds");
    browser.script("[window.fetch, window.setTimeout] = kept; delete window.kept");
    browser.choose("[aria-label='Unit of flux density']", "mT");
    browser.awaitText(".told", "This is told in gauss");
    browser.choose("[aria-label='Unit of flux density']", "G");
    assertThat(browser.text(".told")).doesNotContain("This is told in gauss");
  }

  /** One curve is shown; the arrow keys show the next, and a screen reader is told which. */
  private void looksAtAnotherCurve() {
    assertThat(browser.count(".plots canvas")).isEqualTo(1);
    browser.script("document.querySelector('[name=told-curve]:checked').focus()");
    browser.press(Keys.ARROW_RIGHT);
    browser.awaitShown(".plots [aria-label$='field at the string, G'] canvas");
    assertThat(browser.count(".plots canvas")).isEqualTo(1);
    assertThat(browser.script("return document.activeElement.value"))
        .isEqualTo("field at the string, G");
  }

  /** A file of notes is taken whole or not at all; what is on record already is left out. */
  private void takesNotesFromAFile() throws IOException {
    Path file = folder.resolve("made.csv");
    String heading = "day,name,alloy,shape,size,levels\n";
    String good = "2026-05-03,Whinchat 4,alnico 3,rod,4.6 x 15.5 mm,351 G\n";
    Files.writeString(file, heading + good + "2026-05-03,Whinchat 5,alnico 3,rod,thick,351 G\n");
    browser.tap("[data-act='notes-in']");
    browser.awaitText("[data-part='notes-in']", "No file is chosen");
    browser.awaitShown("#voice-notes-file").sendKeys(file.toString());
    browser.tap("[data-act='notes-in']");
    browser.awaitText("[data-part='notes-in']", "Row 3, size: ");
    Path latin = folder.resolve("latin.csv");
    Files.writeString(latin, heading + good.replace("4", "\u00e9"), StandardCharsets.ISO_8859_1);
    browser.awaitShown("#voice-notes-file").sendKeys(latin.toString());
    browser.tap("[data-act='notes-in']");
    browser.awaitText("[data-part='notes-in']", "The file is not UTF-8");
    assertThat(browser.text("[data-part='notes']")).doesNotContain("Whinchat");
    Files.writeString(file, heading + good);
    browser.awaitShown("#voice-notes-file").sendKeys(file.toString());
    browser.tap("[data-act='notes-in']");
    browser.awaitText("[data-part='notes-in']", "1 new note from made.csv");
    browser.awaitText("[data-part='notes']", "Whinchat 4");
    browser.awaitShown("#voice-notes-file").sendKeys(file.toString());
    browser.tap("[data-act='notes-in']");
    browser.awaitText("[data-part='notes-in']", "0 new notes");
  }

  @Test
  void choosesALevelFromAVoiceAndPlansIt() throws IOException {
    browser.tap("nav a[href='#voice']");
    browser.choose("#voice-alloy", "alnico 3");
    browser.type("#voice-size", "thick");
    refused = true;
    browser.tap("[data-act='voice']");
    browser.awaitText("main", "Size: ");
    browser.type("#voice-size", "4.6 x 15.5 mm");
    browser.tap("[data-fold='strings'] summary");
    browser.type("#voice-strings", "0.25 E4; 0.33 B3");
    // By the keyboard alone from here on to the answer.
    browser.script("document.querySelector('#voice-level').focus()");
    browser.press("457 G");
    browser.press(Keys.ENTER);
    browser.awaitText("main", "Out of tune along the neck");
    browser.awaitShown("canvas");
    looksAtAnotherCurve();
    looksRight("voice");
    seesEachFigureOnAPhone();
    saysWhyNothingCame();
    notesAndPlans();
    find("dunlin", "sets");
    browser.tap("[data-act='reached']");
    browser.awaitText("main", "From the strongest to the weakest");
    looksRight("set-reached");
  }

  private void notesAndPlans() throws IOException {
    browser.tap(".choice:has([name='voice-take'][value='366.1 G'])");
    browser.type("#voice-tolerance", "9 G");
    browser.type("#voice-set", "siskin");
    browser.type("#voice-spread", "1 %");
    browser.type("#voice-reverse", "siskin-rw");
    browser.type("#voice-note-name", "Siskin 2");
    browser.type("#voice-note-pickup", "Dunlin 3");
    browser.tap("[data-act='note']");
    browser.awaitText("#told", "Siskin 2 is noted");
    browser.awaitText("[data-part='notes']", "Describe it like Siskin 2 of 20");
    assertThat(browser.text("[data-part='notes']")).contains("pickup ");
    takesNotesFromAFile();
    browser.tap("[data-act='voice']");
    browser.awaitText("main", "Past builds that come nearest");
    browser.tap("[data-act='voice-plan']");
    browser.awaitText("main", "siskin-rw-2");
    assertThat(browser.value("#plan-target")).isEqualTo("366.1 G");
    assertThat(browser.value("#plan-spread")).isEqualTo("1 %");
    browser.awaitText("main", "its spread is 1 %");
  }
}
