package lodestep.firmware;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/**
 * The head's firmware, built here from the very sources of a microcontroller, with every warning an
 * error.
 *
 * @param program what was built
 */
public record NativeHead(Path program) {

  private static final String INSTALL =
      "cc is missing, and the tests of the head's firmware need it; run: apt-get install -y gcc";

  /** Builds it into this folder. */
  public static NativeHead builtIn(Path folder) {
    Path head =
        Path.of(System.getProperty("lodestep.repository", "")).resolve("firmware-host/head");
    Path program = folder.resolve("native-head");
    List<String> command = new ArrayList<>(List.of("cc", "-std=c99", "-O1"));
    command.addAll(List.of("-Wall", "-Wextra", "-Wconversion", "-Wpedantic", "-Werror"));
    command.addAll(List.of("-fsanitize=undefined", "-fno-sanitize-recover"));
    command.addAll(List.of("-I" + head.resolve("core"), "-o", program.toString()));
    command.addAll(sources(head.resolve("core")));
    command.addAll(sources(head.resolve("native")));
    try {
      Process cc = new ProcessBuilder(command).redirectErrorStream(true).start();
      String said = new String(cc.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      if (cc.waitFor() != 0) {
        throw new AssertionError("the firmware does not build:\n" + said);
      }
    } catch (IOException e) {
      throw new AssertionError(INSTALL, e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError("interrupted while building the firmware", e);
    }
    return new NativeHead(program);
  }

  private static List<String> sources(Path folder) {
    try (Stream<Path> files = Files.list(folder)) {
      return files.map(Path::toString).filter(name -> name.endsWith(".c")).sorted().toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** What it writes when it is given these bytes, in one of its ways of working. */
  public byte[] answer(String way, byte[] input) {
    try {
      Process process =
          new ProcessBuilder(program.toString(), way)
              .redirectError(ProcessBuilder.Redirect.INHERIT)
              .start();
      Thread writer =
          new Thread(
              () -> {
                try (var out = process.getOutputStream()) {
                  out.write(input);
                } catch (IOException e) {
                  throw new UncheckedIOException(e);
                }
              },
              "to-head");
      writer.start();
      byte[] said = process.getInputStream().readAllBytes();
      writer.join();
      if (process.waitFor() != 0) {
        throw new AssertionError("the firmware ended with " + process.exitValue());
      }
      return said;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError("interrupted while the firmware ran", e);
    }
  }

  /** The same in text, line by line. */
  public List<String> answer(String way, String input) {
    byte[] said = answer(way, input.getBytes(StandardCharsets.ISO_8859_1));
    return new String(said, StandardCharsets.ISO_8859_1).lines().toList();
  }
}
