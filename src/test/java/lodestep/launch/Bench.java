package lodestep.launch;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * A small repository in a folder with blanks in its name, holding the real launcher, with stand-ins
 * for Java and Maven that write down how they were called.
 */
record Bench(Path folder) {

  private static final List<String> TOOLS =
      List.of(
          "sh",
          "readlink",
          "find",
          "head",
          "flock",
          "touch",
          "rm",
          "mkdir",
          "mv",
          "sed",
          "cut",
          "getent",
          "cat",
          "tail");

  static Bench in(Path folder) throws IOException {
    Bench bench = new Bench(folder);
    Path source = Path.of(System.getProperty("lodestep.repository"));
    for (String file : List.of("lodestep", "src/main/sh/tools.sh")) {
      Path copy = bench.root().resolve(file);
      Files.createDirectories(copy.getParent());
      Files.copy(source.resolve(file), copy, StandardCopyOption.COPY_ATTRIBUTES);
    }
    Files.writeString(bench.root().resolve("pom.xml"), "<project/>");
    Files.createDirectories(bench.root().resolve("firmware-host/board"));
    Files.writeString(bench.source(), "class A {}");
    bench.writeTools();
    return bench;
  }

  Path root() {
    return folder.resolve("a repository");
  }

  Path source() {
    return root().resolve("src/main/A.java");
  }

  private Path tools() {
    return folder.resolve("tools");
  }

  private void writeTools() throws IOException {
    Files.createDirectories(tools());
    for (String tool : TOOLS) {
      script(tools().resolve(tool), "exec " + where(tool) + " \"$@\"");
    }
    script(tools().resolve("id"), "echo 1000");
    script(
        tools().resolve("mvn"),
        "echo build >>" + quoted("builds"),
        "[ -p " + quoted("gate") + " ] && cat " + quoted("gate"),
        "[ -f " + quoted("broken") + " ] && echo 'A.java: no such thing' && exit 1",
        "mkdir -p target && echo jar >target/lodestep.jar");
    Path java = folder.resolve("java home");
    Files.createDirectories(java.resolve("bin"));
    script(java.resolve("bin/javac"), "exit 0");
    script(
        java.resolve("bin/java"),
        "printf '{%s %s}' \"${LC_ALL:-}\" \"${LC_CTYPE:-}\"",
        "printf '<%s>' \"$@\"",
        "exit 7");
    writeJavaVersion("17.0.1");
  }

  void writeJavaVersion(String version) throws IOException {
    Files.writeString(folder.resolve("java home/release"), "JAVA_VERSION=\"" + version + "\"\n");
  }

  private static Path where(String tool) {
    return List.of("/usr/bin/", "/bin/").stream()
        .map(folder -> Path.of(folder + tool))
        .filter(Files::exists)
        .findFirst()
        .orElseThrow(() -> new IllegalStateException("this system has no " + tool));
  }

  private String quoted(String name) {
    return "'" + folder.resolve(name) + "'";
  }

  private static void script(Path file, String... lines) throws IOException {
    Files.writeString(file, "#!/bin/sh\n" + String.join("\n", lines) + "\n");
    if (!file.toFile().setExecutable(true)) {
      throw new IOException(file + " cannot be made executable");
    }
  }

  void breakTheBuild() throws IOException {
    Files.createFile(folder.resolve("broken"));
  }

  void takeAwayMaven() throws IOException {
    Files.delete(tools().resolve("mvn"));
  }

  /** Makes Maven's stand-in wait until something is written to the pipe returned. */
  Path holdTheBuild() throws IOException, InterruptedException {
    Path gate = folder.resolve("gate");
    new ProcessBuilder("mkfifo", gate.toString()).start().waitFor();
    return gate;
  }

  /** How many builds were begun. */
  int builds() throws IOException {
    Path builds = folder.resolve("builds");
    return Files.exists(builds) ? Files.readAllLines(builds).size() : 0;
  }

  /** Dates a file later than the last build, as an edit would. */
  void edit(Path file) throws IOException {
    FileTime built = Files.getLastModifiedTime(root().resolve("target/built.stamp"));
    Files.setLastModifiedTime(file, FileTime.from(built.toInstant().plus(Duration.ofSeconds(1))));
  }

  Process start(Path launcher, String... arguments) throws IOException {
    return start(Map.of(), launcher, arguments);
  }

  /** Lets {@code locale charmap} answer with this. */
  void answerCharacters(String name) throws IOException {
    script(tools().resolve("locale"), "echo " + name);
  }

  /** Runs the launcher to its end, with more in its environment. */
  Ending runWith(Map<String, String> environment) throws IOException, InterruptedException {
    return Ending.of(start(environment, root().resolve("lodestep")));
  }

  private Process start(Map<String, String> environment, Path launcher, String... arguments)
      throws IOException {
    List<String> command = new ArrayList<>(List.of(launcher.toString()));
    command.addAll(List.of(arguments));
    ProcessBuilder builder = new ProcessBuilder(command).directory(folder.toFile());
    builder.environment().clear();
    builder.environment().put("PATH", tools().toString());
    builder.environment().put("JAVA_HOME", folder.resolve("java home").toString());
    builder.environment().putAll(environment);
    return builder.start();
  }

  /** Runs the launcher to its end. */
  Ending run(String... arguments) throws IOException, InterruptedException {
    return Ending.of(start(root().resolve("lodestep"), arguments));
  }
}
