package lodestep.adapter.paper;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** Reads paper with Debian's poppler-utils and zbar-tools, which have no part in writing it. */
public final class OutsideReader {

  private OutsideReader() {}

  /** The text of a PDF. */
  public static String text(Path pdf) throws IOException, InterruptedException {
    return run("pdftotext", "-layout", pdf.toString(), "-");
  }

  /** How many pages it has. */
  public static int pages(Path pdf) throws IOException, InterruptedException {
    return run("pdfinfo", pdf.toString())
        .lines()
        .filter(line -> line.startsWith("Pages:"))
        .mapToInt(line -> Integer.parseInt(line.substring("Pages:".length()).strip()))
        .findFirst()
        .orElseThrow();
  }

  /** What the square codes of its first page hold. */
  public static List<String> codes(Path pdf) throws IOException, InterruptedException {
    String beside = pdf + "-page";
    run("pdftoppm", "-r", "200", "-png", "-singlefile", "-gray", pdf.toString(), beside);
    return run(
            "zbarimg", "-q", "--nodbus", "--raw", "-Sdisable", "-Sqrcode.enable", beside + ".png")
        .lines()
        .toList();
  }

  private static String run(String... command) throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.DISCARD).start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertThat(process.waitFor(2, TimeUnit.MINUTES)).as(command[0] + " ends").isTrue();
    assertThat(process.exitValue()).as(String.join(" ", command)).isZero();
    return said;
  }
}
