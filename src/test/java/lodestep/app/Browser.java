package lodestep.app;

import com.deque.html.axecore.selenium.AxeBuilder;
import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.logging.Level;
import org.openqa.selenium.By;
import org.openqa.selenium.JavascriptExecutor;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.StaleElementReferenceException;
import org.openqa.selenium.WebDriver;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.interactions.PointerInput;
import org.openqa.selenium.interactions.Sequence;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.logging.LoggingPreferences;
import org.openqa.selenium.support.ui.FluentWait;
import org.openqa.selenium.support.ui.WebDriverWait;

/**
 * Debian's Chromium with no screen, worked by a finger. Looks for nothing on the network: browser
 * and driver are named, so that the library's own search never runs.
 */
final class Browser implements AutoCloseable {

  private static final String CHROMIUM = "/usr/bin/chromium";
  private static final String DRIVER = "/usr/bin/chromedriver";

  /** What is waited for comes in a second or two; a busy machine takes its time. */
  private static final Duration PATIENCE = Duration.ofSeconds(60);

  private static final List<String> FLAGS =
      List.of(
          "--headless=new",
          "--no-sandbox",
          "--disable-gpu",
          "--disable-quic",
          "--no-first-run",
          "--disable-background-networking",
          "--disable-component-update",
          "--disable-sync",
          "--disable-dev-shm-usage",
          "--force-prefers-reduced-motion",
          "--autoplay-policy=no-user-gesture-required");

  private final ChromeDriver driver;

  private Browser(ChromeDriver driver) {
    this.driver = driver;
  }

  /** Opens one with a profile of its own in this folder. */
  static Browser open(Path profile) {
    for (String program : List.of(CHROMIUM, DRIVER)) {
      if (!Files.isExecutable(Path.of(program))) {
        throw new IllegalStateException(
            program + " is missing; install it: sudo apt-get install chromium chromium-driver");
      }
    }
    ChromeOptions options = new ChromeOptions();
    options.setBinary(CHROMIUM);
    options.addArguments(FLAGS);
    options.addArguments("--user-data-dir=" + profile, "--lang=en");
    LoggingPreferences logged = new LoggingPreferences();
    logged.enable(LogType.BROWSER, Level.ALL);
    options.setCapability("goog:loggingPrefs", logged);
    ChromeDriverService service =
        new ChromeDriverService.Builder().usingDriverExecutable(new File(DRIVER)).build();
    return new Browser(new ChromeDriver(service, options));
  }

  /** The screen of a device, to the pixel. */
  void screen(int width, int height, boolean dark) {
    driver.executeCdpCommand(
        "Emulation.setDeviceMetricsOverride",
        Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", width < 700));
    driver.executeCdpCommand("Emulation.setTouchEmulationEnabled", Map.of("enabled", true));
    driver.executeCdpCommand(
        "Emulation.setEmulatedMedia",
        Map.of(
            "features",
            List.of(
                Map.of("name", "prefers-color-scheme", "value", dark ? "dark" : "light"),
                Map.of("name", "prefers-reduced-motion", "value", "reduce"))));
  }

  void go(String address) {
    driver.get(address);
  }

  /** Taps with a finger once the thing is there and may be pressed. */
  void tap(String css) {
    WebElement element = awaitShown(css);
    script("arguments[0].scrollIntoView({block: 'center', inline: 'center'})", element);
    PointerInput finger = new PointerInput(PointerInput.Kind.TOUCH, "finger");
    Sequence touch = new Sequence(finger, 0);
    touch.addAction(
        finger.createPointerMove(Duration.ZERO, PointerInput.Origin.fromElement(element), 0, 0));
    touch.addAction(finger.createPointerDown(PointerInput.MouseButton.LEFT.asArg()));
    touch.addAction(finger.createPointerUp(PointerInput.MouseButton.LEFT.asArg()));
    driver.perform(List.of(touch));
  }

  void type(String css, String text) {
    WebElement element = awaitShown(css);
    element.clear();
    element.sendKeys(text);
  }

  /** Chooses one of a list, as the browser's own list tells the page. */
  void choose(String css, String value) {
    WebElement list = awaitShown(css);
    script(
        "arguments[0].focus(); arguments[0].value = arguments[1];"
            + " arguments[0].dispatchEvent(new Event('change', {bubbles: true}))",
        list,
        value);
  }

  /** What stands in a field. */
  String value(String css) {
    return String.valueOf(awaitShown(css).getDomProperty("value"));
  }

  void press(CharSequence keys) {
    new Actions(driver).sendKeys(keys).perform();
  }

  /** What has the keyboard, as a person would call it. */
  String focused() {
    return String.valueOf(
        script(
            "const a = document.activeElement; return a.id || a.dataset.act || a.dataset.hand ||"
                + " a.textContent.trim()"));
  }

  private FluentWait<WebDriver> waiting() {
    return new WebDriverWait(driver, PATIENCE).pollingEvery(Duration.ofMillis(50));
  }

  WebElement awaitShown(String css) {
    return waiting()
        .withMessage(() -> "no " + css + " that can be pressed; the page says: " + text("body"))
        .ignoring(StaleElementReferenceException.class)
        .until(
            at ->
                at.findElements(By.cssSelector(css)).stream()
                    .filter(each -> each.isDisplayed() && each.isEnabled())
                    .findFirst()
                    .orElse(null));
  }

  /** Waits until the rig is in one of these phases; says in which. */
  String awaitPhase(String... phases) {
    return waiting()
        .withMessage(() -> "not " + String.join(", ", phases) + ": " + text("body"))
        .until(at -> List.of(phases).contains(phase()) ? phase() : null);
  }

  void awaitText(String css, String part) {
    waiting()
        .withMessage(() -> css + " does not say '" + part + "' but: " + text("body"))
        .ignoring(StaleElementReferenceException.class)
        .until(at -> text(css).contains(part));
  }

  String phase() {
    return String.valueOf(script("return document.body.dataset.phase || ''"));
  }

  boolean old() {
    return "old".equals(script("return document.body.dataset.age"));
  }

  void awaitOld(boolean old) {
    waiting().until(at -> old() == old);
  }

  boolean shows(String css) {
    return driver.findElements(By.cssSelector(css)).stream().anyMatch(WebElement::isDisplayed);
  }

  int count(String css) {
    return driver.findElements(By.cssSelector(css)).size();
  }

  String text(String css) {
    List<WebElement> found = driver.findElements(By.cssSelector(css));
    return found.isEmpty() ? "" : found.get(0).getText();
  }

  Object script(String script, Object... arguments) {
    return Objects.requireNonNullElse(
        ((JavascriptExecutor) driver).executeScript(script, arguments), "");
  }

  /** Figures that a script gathers in its own time, smallest first. */
  List<Double> ages(String script, Object... arguments) {
    driver.manage().timeouts().scriptTimeout(Duration.ofMinutes(3));
    List<?> found = (List<?>) driver.executeAsyncScript(script, arguments);
    return found == null
        ? List.of()
        : found.stream().map(Number.class::cast).map(Number::doubleValue).sorted().toList();
  }

  /** Errors that the page wrote to its console, since the last time this was asked. */
  List<String> errors() {
    return driver.manage().logs().get(LogType.BROWSER).getAll().stream()
        .filter(entry -> entry.getLevel().intValue() >= Level.SEVERE.intValue())
        .map(LogEntry::getMessage)
        .toList();
  }

  /** What keeps somebody from using it: the rules of WCAG 2 and good practice, by axe-core. */
  List<String> barriers() {
    driver.executeScript(axe());
    driver.manage().timeouts().scriptTimeout(PATIENCE);
    List<?> found =
        (List<?>)
            driver.executeAsyncScript(
                "const done = arguments[arguments.length - 1];"
                    + "axe.run(document).then(r => done(r.violations.map(v => v.id + ': ' + v.help"
                    + " + ' ' + v.nodes.map(n => n.html).join(' '))), e => done([String(e)]))");
    return found == null
        ? List.of("axe gave no answer")
        : found.stream().map(String::valueOf).toList();
  }

  /** The checker's own script, as its jar has it. */
  private static String axe() {
    try (InputStream script = AxeBuilder.class.getResourceAsStream("/axe.min.js")) {
      if (script == null) {
        throw new IllegalStateException("the checker's jar holds no axe.min.js");
      }
      return new String(script.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException damaged) {
      throw new UncheckedIOException(damaged);
    }
  }

  /** What is pressed and not large enough for gloves; links inside text are no buttons. */
  String tooSmall() {
    return String.valueOf(
        script(
            "return [...document.querySelectorAll('button, a.button, nav a, .choice span, select,"
                + " summary, input:not([type=radio])')]"
                + ".filter(e => e.offsetParent !== null || e.id === 'stop')"
                + ".filter(e => { const b = e.getBoundingClientRect();"
                + " const least = e.id === 'stop' ? 96 : 48;"
                + " return b.width < least || b.height < least - 0.5; })"
                + ".map(e => e.outerHTML.slice(0, 80)).join('; ')"));
  }

  /** Keeps a picture of what is shown now, from its top. */
  void picture(String name) throws IOException {
    script("window.scrollTo(0, 0)");
    keep(name, driver.getScreenshotAs(OutputType.BYTES));
  }

  private static void keep(String name, byte[] picture) throws IOException {
    Path folder = Path.of(System.getProperty("lodestep.repository", "."), "target", "screens");
    Files.createDirectories(folder);
    Files.write(folder.resolve(name + ".png"), picture);
  }

  /** Keeps a picture of the whole page, also of what lies below the screen's edge. */
  void wholePicture(String name) throws IOException {
    Object high = script("return document.scrollingElement.scrollHeight");
    Object wide = script("return innerWidth");
    Map<String, Object> clip = Map.of("x", 0, "y", 0, "width", wide, "height", high, "scale", 1);
    Object data =
        driver
            .executeCdpCommand(
                "Page.captureScreenshot", Map.of("captureBeyondViewport", true, "clip", clip))
            .get("data");
    keep(name, Base64.getDecoder().decode(String.valueOf(data)));
  }

  @Override
  public void close() {
    driver.quit();
  }
}
