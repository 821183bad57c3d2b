package lodestep.launch;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a run leaves in the diagnostics what whoever repairs the rig asks first. */
@Timeout(300)
class DiaryOfARunTest {

  private static final String ROW = "a,alnico 5,rod,4.9 x 16.5 mm,,north,%s,%s\n";

  private final Lodestep lodestep;

  DiaryOfARunTest(@TempDir Path folder) {
    this.lodestep = new Lodestep(folder);
  }

  private List<String> diary() throws IOException {
    return Files.readAllLines(lodestep.state().resolve("lodestep/lodestep.0.log"));
  }

  @Test
  void tellsBeginHeadAndEndOfABatch() throws IOException, InterruptedException {
    Path plan =
        Files.writeString(
            lodestep.folder().resolve("one.csv"),
            "name,alloy,shape,size,nest,pole up,target,tolerance\n"
                + ROW.formatted("600 G", "11 G"));
    Ending ended = lodestep.run("batch", plan.toString(), "--ledger", "bench.ledger");

    assertThat(ended.exitCode()).as(ended.said()).isZero();
    assertThat(ended.said()).isEmpty();
    List<String> diary = diary();
    assertThat(diary).hasSizeBetween(3, 10);
    assertThat(diary.get(0))
        .contains("begin: batch, version ", "virtual rig 'reference rig'", "sha256 ")
        .endsWith("ledger bench.ledger");
    assertThat(diary).anyMatch(line -> line.contains("boot ") && line.contains("firmware "));
    assertThat(diary.get(diary.size() - 1)).contains("INFO", "end: batch");
  }

  @Test
  void tellsWhyACommandWasRefused() throws IOException, InterruptedException {
    Ending ended = lodestep.run("read", "--nest", "hole");

    assertThat(ended.exitCode()).isEqualTo(2);
    assertThat(diary()).singleElement().asString().contains("refused: --nest: no nest 'hole'");
  }

  /** What the plan may not reach on this rig is told with the batch as with the plan. */
  @Test
  void tellsTheDoubtsOfAPlanBeforeTheFirstCharge() throws IOException, InterruptedException {
    Path plan =
        Files.writeString(
            lodestep.folder().resolve("fine.csv"),
            "name,alloy,shape,size,nest,pole up,target,tolerance\n"
                + ROW.formatted("300 G", "3 G"));
    Path repository = Path.of(System.getProperty("lodestep.repository", ""));
    String rig = repository.resolve("firmware-host/board/rig-virtual-switched.toml").toString();
    String doubt =
        lodestep
            .run("plan", plan.toString(), "--rig", rig)
            .output()
            .lines()
            .filter(line -> line.startsWith("Mind "))
            .findFirst()
            .orElseThrow(() -> new AssertionError("the plan raises no doubt"));

    Ending batch = lodestep.run("batch", plan.toString(), "--rig", rig, "--ledger", "fine.ledger");

    assertThat(batch.output()).containsOnlyOnce(doubt);
    assertThat(batch.output().indexOf(doubt)).isLessThan(batch.output().indexOf("1 of 1"));
  }
}
