package lodestep.panel;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;

/**
 * The page's own files, out of the program: nothing is loaded from elsewhere.
 *
 * @param path under which the server has it
 * @param type of its content
 * @param resource in the class path
 * @param end is added to it
 */
record PageFile(String path, String type, String resource, String end) {

  private static final String SCRIPT = "text/javascript; charset=utf-8";
  private static final String STYLE = "text/css; charset=utf-8";
  private static final String OWN = "/lodestep/page/";
  private static final String PLOTS = "/META-INF/resources/webjars/uplot/1.6.30/dist/";

  /** The library is small as a plain script only: one line makes a module of that. */
  private static final String AS_MODULE = "\nexport default uPlot;\n";

  /** All of them. */
  static final List<PageFile> ALL =
      List.of(
          new PageFile("/", "text/html; charset=utf-8", OWN + "index.html", ""),
          own("style.css", STYLE),
          own("app.js", SCRIPT),
          own("link.js", SCRIPT),
          own("words.js", SCRIPT),
          own("parts.js", SCRIPT),
          own("hands.js", SCRIPT),
          own("now.js", SCRIPT),
          own("batch.js", SCRIPT),
          own("plan.js", SCRIPT),
          own("magnets.js", SCRIPT),
          own("shelf.js", SCRIPT),
          own("pickups.js", SCRIPT),
          own("stock.js", SCRIPT),
          own("voice.js", SCRIPT),
          own("told.js", SCRIPT),
          own("gauge.js", SCRIPT),
          own("checks.js", SCRIPT),
          own("byhand.js", SCRIPT),
          own("studies.js", SCRIPT),
          own("tone.js", SCRIPT),
          own("rig.js", SCRIPT),
          own("words.en.json", "application/json"),
          own("icon.svg", "image/svg+xml"),
          new PageFile("/page/uplot.js", SCRIPT, PLOTS + "uPlot.iife.min.js", AS_MODULE),
          new PageFile("/page/uplot.css", STYLE, PLOTS + "uPlot.min.css", ""));

  private static PageFile own(String name, String type) {
    return new PageFile("/page/" + name, type, OWN + name, "");
  }

  /**
   * Its bytes.
   *
   * @throws IllegalStateException when the program's own file is missing
   */
  byte[] bytes() {
    try (InputStream stream = PageFile.class.getResourceAsStream(resource)) {
      if (stream == null) {
        throw new IllegalStateException("the program's own file " + resource + " is missing");
      }
      ByteArrayOutputStream bytes = new ByteArrayOutputStream();
      stream.transferTo(bytes);
      bytes.writeBytes(end.getBytes(StandardCharsets.UTF_8));
      return bytes.toByteArray();
    } catch (IOException damaged) {
      throw new UncheckedIOException("the program's own file " + resource, damaged);
    }
  }
}
