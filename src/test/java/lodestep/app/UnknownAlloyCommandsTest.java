package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import lodestep.app.CommandRun.Ended;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a magnet of an alloy that nobody knows goes the whole way, and teaches no other. */
class UnknownAlloyCommandsTest {

  private final Path folder;
  private final Path ledger;

  UnknownAlloyCommandsTest(@TempDir Path folder) {
    this.folder = folder;
    this.ledger = folder.resolve("test.ledger");
  }

  private Ended onLedger(String... arguments) {
    return CommandRun.on(ledger, arguments);
  }

  private Ended dialed(String seed) {
    return onLedger(
        "dial",
        "--alloy",
        "Unknown",
        "--size",
        "5.1 x 18 mm",
        "--pole-up",
        "south",
        "--target",
        "330 G",
        "--tolerance",
        "8 G",
        "--seed",
        seed);
  }

  @Test
  void dialsMagnetsOfSeveralAlloysThatNobodyKnows() {
    for (String seed : new String[] {"1", "2", "3", "4"}) {
      Ended ended = dialed(seed);
      assertThat(ended.code()).as(ended.out()).isZero();
      assertThat(ended.out()).contains("1 accepted");
    }
    // The fourth is told to have been known by nothing but its shape.
    assertThat(onLedger("explain", "one-4").out())
        .contains("by its shape and what", "nobody knowing its alloy")
        .doesNotContain("by its alloy");
    assertThat(onLedger("reread", "one-4").out()).contains("kept");
  }

  @Test
  void magnetsOfOneNamedLotTeachEachOther() throws IOException {
    Path plan = folder.resolve("box.csv");
    Files.writeString(
        plan,
        """
        name,alloy,shape,size,pole up,target,tolerance,count,lot
        box,unknown,rod,5.1 x 18 mm,north,330 G,8 G,3,attic box
        """);

    Ended ended = onLedger("batch", plan.toString());

    assertThat(ended.out()).contains("3 accepted");
    assertThat(onLedger("explain", "box.3").out()).contains("the 2 magnets of its kind before it");
  }

  @Test
  void demagnetisesByFallingPulsesAsNobodyKnowsWhereToAim() {
    Ended ended =
        onLedger("dial", "--alloy", "unknown", "--size", "5.1 x 18 mm", "--target", "demagnetise");

    assertThat(ended.out()).contains("falling pulses");
  }
}
