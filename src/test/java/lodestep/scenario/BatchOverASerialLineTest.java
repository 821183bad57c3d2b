package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lodestep.adapter.serial.Polling;
import lodestep.app.SerialBench;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.Entry;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.Verdict;
import lodestep.ledger.Proof;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.TripCause;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: the main job with every byte between host and head on a real terminal, and the same record
 * of it as with the head inside the program. Method: the rig runs in a process of its own; host and
 * rig move on together, so that neither's speed shows.
 */
class BatchOverASerialLineTest {

  private static final Outputs ENERGY =
      Outputs.high(OutputLine.BANK_FILL, OutputLine.BANK_HOLD, OutputLine.COIL_FIRE);

  private final Path folder;
  private final Path records;
  private final Path port;

  BatchOverASerialLineTest(@TempDir Path folder, @TempDir Path records) {
    this.folder = folder;
    this.records = records;
    this.port = folder.resolve("head");
  }

  private static Batch batch() {
    return Benches.batch(
        PlannerMode.CURVE, Benches.rod("rod", PoleUp.NORTH, Benches.level(620, 12), 1));
  }

  private SerialBench bench() throws IOException {
    return bench("a.ledger");
  }

  private SerialBench bench(String ledger) throws IOException {
    return SerialBenches.onALine(port, batch(), records.resolve(ledger));
  }

  @Test
  void dialsAMagnetTwiceToTheSameRecordAsInsideTheProgram() throws IOException {
    String inside;
    try (VirtualBench bench =
        SerialBenches.inside(port, batch(), records.resolve("inside.ledger"))) {
      while (!bench.done()) {
        bench.runScan();
        assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
      }
      inside = record(bench.ledger().canonicalBytes().toArray());
    }

    String once = dialled("once.ledger");
    String again = dialled("again.ledger");

    assertThat(again).isEqualTo(once);
    assertThat(once).isEqualTo(inside);
  }

  private String dialled(String ledger) throws IOException {
    try (SerialBench bench = bench(ledger)) {
      while (!bench.done()) {
        bench.runScan();
        assertThat(bench.gaveUp()).isFalse();
        assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
      }
      assertThat(bench.job().batch().entries())
          .extracting(entry -> entry.end().map(end -> end.verdict()))
          .containsExactly(Optional.of(Verdict.ACCEPTED));
      assertThat(bench.scan().snapshot().view().link().badLines()).isZero();
      assertThat(Proof.of(bench.ledger().archive(), List.of()))
          .isInstanceOf(Proof.Result.Whole.class);
      return record(bench.ledger().canonicalBytes().toArray());
    }
  }

  private static String record(byte[] canonical) {
    return new String(canonical, StandardCharsets.UTF_8);
  }

  @Test
  void tripsBleedsAndKeepsTheMagnetOpenWhenTheCableIsCutWhileTheBankIsFilled() throws IOException {
    List<ProcessHandle> processes;
    try (SerialBench bench = bench()) {
      processes = processes(bench);
      runUntilFilling(bench);

      cut(bench);
      runToATrip(bench);

      assertThat(bench.scan().snapshot().trip().get().cause()).isEqualTo(TripCause.HEAD_SILENT);
      assertThat(bench.scan().snapshot().driven().only(ENERGY)).isEqualTo(Outputs.ALL_LOW);
      runUntilGivenUp(bench);
      assertThat(contact(bench, InputLine.BLEED_CONTACT)).as("bank is being bled").isTrue();
      assertThat(contact(bench, InputLine.FILL_CONTACT)).as("fill relay is released").isTrue();
      assertThat(bench.gone()).isEmpty();
      assertThat(bench.job().batch().entries()).noneMatch(Entry::done);
      assertThat(Proof.of(bench.ledger().archive(), List.of()))
          .isInstanceOf(Proof.Result.Whole.class);
    }
    assertNothingIsLeft(processes);
  }

  @Test
  void goesOnWithTheSameMagnetWhenTheCableIsPluggedInAgain() throws IOException {
    List<ProcessHandle> processes;
    try (SerialBench bench = bench()) {
      runUntilFilling(bench);
      cut(bench);
      runToATrip(bench);
      long cutLines = bench.scan().snapshot().view().link().badLines();

      bench.rig().plugIn();
      processes = processes(bench);
      while (!bench.done()) {
        bench.runScan();
        assertThat(bench.gaveUp()).isFalse();
        assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
      }

      assertThat(bench.job().batch().entries())
          .extracting(entry -> entry.end().map(end -> end.verdict()))
          .containsExactly(Optional.of(Verdict.ACCEPTED));
      assertThat(bench.scan().snapshot().view().link().badLines()).isEqualTo(cutLines);
      assertThat(Proof.of(bench.ledger().archive(), List.of()))
          .isInstanceOf(Proof.Result.Whole.class);
    }
    assertNothingIsLeft(processes);
  }

  @Test
  void tripsAndSaysWhyWhenTheRigsProcessIsKilled() throws IOException {
    List<ProcessHandle> processes;
    try (SerialBench bench = bench()) {
      processes = processes(bench);
      runUntilFilling(bench);

      bench.rig().process().destroyForcibly();
      runToATrip(bench);

      assertThat(bench.gone().get())
          .startsWith("the virtual rig's own process")
          .endsWith("go on with: lodestep batch --continue");
      assertThat(bench.gaveUp()).isTrue();
      assertThat(bench.scan().snapshot().readBack()).isEqualTo(Outputs.ALL_LOW);
      assertThat(bench.job().batch().entries()).noneMatch(Entry::done);
    }
    assertNothingIsLeft(processes);
  }

  @Test
  void refusesAPortThatAnotherBatchUsesAndLeavesItRunning() throws IOException {
    List<ProcessHandle> processes;
    try (SerialBench first = bench()) {
      processes = processes(first);
      assertThatThrownBy(() -> bench("b.ledger"))
          .isInstanceOf(IOException.class)
          .hasMessageContaining("something is there already; end the other batch that uses it");

      runUntilFilling(first);
      assertThat(first.gone()).isEmpty();
    }
    assertNothingIsLeft(processes);
  }

  @Test
  void refusesAPortWhereAFileStandsAndDoesNotTouchIt() throws IOException {
    Files.writeString(port, "somebody's");

    assertThatThrownBy(() -> bench())
        .isInstanceOf(IOException.class)
        .hasMessageContaining(port + ": something is there already");
    assertThat(port).hasContent("somebody's");
  }

  @Test
  void refusesAPortInAFolderThatIsNotThere() {
    Path nowhere = folder.resolve("no such folder").resolve("head");

    assertThatThrownBy(() -> SerialBenches.onALine(nowhere, batch(), records.resolve("a.ledger")))
        .isInstanceOf(IOException.class)
        .hasMessageContaining("its folder is not there or may not be written");
  }

  @Test
  void replacesWhatAKilledRigHasLeftAtItsPort() throws IOException {
    Files.createSymbolicLink(port, folder.resolve(".lodestep-line-1"));

    try (SerialBench bench = bench()) {
      bench.runScan();
      assertThat(bench.gone()).isEmpty();
    }
    assertThat(folder).isEmptyDirectory();
  }

  private static List<ProcessHandle> processes(SerialBench bench) {
    List<ProcessHandle> started = bench.rig().process().descendants().toList();
    assertThat(started).as("socat").hasSize(1);
    return List.of(bench.rig().process(), started.get(0));
  }

  private static void runUntilFilling(SerialBench bench) {
    while (!bench.scan().snapshot().driven().isHigh(OutputLine.BANK_FILL)) {
      bench.runScan();
      assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
    }
  }

  /** As if the cable were pulled: what is under way is lost and both ends see it. */
  private static void cut(SerialBench bench) {
    bench.rig().process().descendants().forEach(ProcessHandle::destroyForcibly);
    Polling.until(
        "the host to see the cable cut", () -> !bench.rig().head().state(bench.nowNs()).open());
  }

  private static void runToATrip(SerialBench bench) {
    while (bench.scan().snapshot().trip().isEmpty()) {
      bench.runScan();
      assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
    }
  }

  private static void runUntilGivenUp(SerialBench bench) {
    while (!bench.gaveUp()) {
      bench.runScan();
      assertThat(bench.nowNs()).isLessThan(Benches.LONG_NS);
    }
  }

  private static boolean contact(SerialBench bench, InputLine line) {
    return bench.scan().snapshot().view().contacts().closed(line);
  }

  private void assertNothingIsLeft(List<ProcessHandle> processes) {
    assertThat(processes).noneMatch(ProcessHandle::isAlive);
    assertThat(Files.exists(port, LinkOption.NOFOLLOW_LINKS)).isFalse();
    assertThat(folder).isEmptyDirectory();
  }
}
