package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import lodestep.adapter.paper.OutsideReader;
import lodestep.app.CommandRun.Ended;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: a bar is read along its edge and on both faces, and the record says where. */
class PointsCommandTest {

  private static final String PLAN =
      """
      name,alloy,shape,size,pole up,target,tolerance,read at,counts
      wren,alnico 5,bar,58 x 11.5 x 2.9 mm,south,240 G,8 G,1/6; middle; 5/6; both faces,COUNTS
      """;

  private final Path folder;
  private final Path ledger;

  PointsCommandTest(@TempDir Path folder) {
    this.folder = folder;
    this.ledger = folder.resolve("points.ledger");
  }

  private Ended batch(String counts) throws IOException {
    String plan =
        Files.writeString(folder.resolve("plan.csv"), PLAN.replace("COUNTS", counts)).toString();
    Ended ended = CommandRun.on(ledger, "batch", plan);
    assertThat(ended.code()).as(ended.err()).isZero();
    return ended;
  }

  private static double gauss(JsonNode point) {
    return point.get("fieldMicroTesla").asDouble() * 1e-2;
  }

  /** What is read beside the middle is the field there: the resolved magnet's. */
  @Test
  void barIsReadWhereThePlanSaysAndJudgedByWhatCounts() throws IOException {
    batch("middle");
    Ended words = CommandRun.on(ledger, "points", "wren");
    JsonNode json = CommandRun.on(ledger, "points", "wren", "--seed", "2", "--json").json();
    Ended history = CommandRun.on(ledger, "history", "wren");

    assertThat(words.code()).as(words.out() + words.err()).isZero();
    assertThat(words.out())
        .contains("9.67 mm from its left end (1/6), its strings face (south) to the gauge")
        .contains("its other face (north) to the gauge", "its left end stays left")
        .contains("other weaker by", "From the weakest to the strongest point:")
        .contains("Of wren the middle counts: -24", "inside -240.0 G ± 8.0 G");
    JsonNode points = json.get("points");
    assertThat(points).hasSize(6);
    FaceModel bar =
        FaceModel.of(
            AlloyBook.standard().find("alnico 5").orElseThrow(),
            new Shape.Bar(
                Length.ofMm(58), Length.ofMm(11.5), Length.ofMm(2.9), Shape.Axis.THROUGH_WIDTH));
    double along = Length.ofMm(58).metres() / 3;
    double level = bar.model().chargedPolarisationTesla() * 0.5;
    double ratio = bar.at(Length.ofMm(2), along).tesla(level) / bar.at(Length.ofMm(2)).tesla(level);
    double middle = gauss(points.get(1));
    assertThat(ratio).isGreaterThan(1.02);
    assertThat(gauss(points.get(0)) / middle).isCloseTo(ratio, within(0.012));
    assertThat(gauss(points.get(2)) / middle).isCloseTo(ratio, within(0.012));
    for (int at = 0; at < 3; at++) {
      assertThat(gauss(points.get(at))).isNegative();
      assertThat(gauss(points.get(at + 3))).isCloseTo(-gauss(points.get(at)), within(3.0));
    }
    assertThat(history.out())
        .contains("read at points", "point 1/6, other face", "1/6, middle, 5/6, both faces");
  }

  @Test
  void magnetThatIsInsideAtItsMiddleMayBeOutsideByItsMean()
      throws IOException, InterruptedException {
    batch("middle");
    String at = "1/6; middle; 5/6; both faces";
    String[] judged = {"points", "wren", "--at", at, "--counts", "mean of both faces"};
    Ended points = CommandRun.on(ledger, judged);
    String plan = folder.resolve("plan.csv").toString();
    Ended left = CommandRun.on(ledger, "match", plan);
    JsonNode leftOut = CommandRun.on(ledger, "match", plan, "--json").json();
    Path paper = folder.resolve("wren.pdf");
    CommandRun.on(ledger, "certificate", "wren", "--pdf", paper.toString());
    Ended middle = CommandRun.on(ledger, "points", "wren", "--at", "middle");
    Ended matched = CommandRun.on(ledger, "match", plan);

    assertThat(points.code()).isEqualTo(1);
    assertThat(points.out()).contains("the mean of both faces counts", "not proven inside");
    assertThat(left.code()).isEqualTo(1);
    assertThat(left.out()).contains("is left out: read at several points, the mean of both");
    assertThat(leftOut.get("toBeReadAgain")).isEmpty();
    assertThat(leftOut.get("notInsideAtPoints")).hasSize(1);
    assertThat(OutsideReader.text(paper)).contains("wren, read at several points from 2");
    assertThat(middle.code()).as(middle.out()).isZero();
    assertThat(matched.code()).as(matched.out()).isZero();
  }

  /** The rig dials by what its gauge sees: another figure is refused before anything is dialed. */
  @Test
  void figureThatTheGaugeDoesNotSeeIsRefusedBeforehand() throws IOException {
    String plan = PLAN.replace("COUNTS", "mean of both faces");
    Ended ended =
        CommandRun.on(
            ledger, "batch", Files.writeString(folder.resolve("mean.csv"), plan).toString());

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err())
        .contains("(counts)", "the mean of both faces cannot be dialed to", "let the middle count")
        .contains("--counts \"mean of both faces\"");
    assertThat(ledger).doesNotExist();
  }

  @Test
  void whatCannotBeReadIsRefusedBeforeAnythingIsAsked() throws IOException {
    Ended dialed = CommandRun.on(ledger, CommandRun.ONE);
    assertThat(dialed.code()).isZero();
    long size = Files.size(ledger);

    isRefused(CommandRun.on(ledger, "points", "moon"), "no magnet 'moon' is on record", "one");
    isRefused(CommandRun.on(ledger, "points", "one", "--at", "1/6; middle"), "no edge");
    isRefused(CommandRun.on(ledger, "points", "one", "--at", "midle"), "did you mean 'middle'?");
    isRefused(CommandRun.on(ledger, "points", "one", "--nest", "bar nest"), "is for a bar");
    isRefused(CommandRun.on(ledger, "points", "one", "--counts", "mean of the two"), "no figure");
    assertThat(Files.size(ledger)).isEqualTo(size);
    assertThat(CommandRun.on(ledger, "points", "one").out()).contains("Of one the middle counts");
  }

  @Test
  void planThatNamesPointsOfARodIsRefused() throws IOException {
    String rod =
        """
        name,alloy,shape,size,pole up,target,tolerance,read at,counts
        swift,alnico 3,rod,5.1 x 18 mm,north,415 G,12 G,1/6; middle,
        wren,alnico 3,rod,5.1 x 18 mm,north,415 G,12 G,,mean
        """;
    Ended ended =
        CommandRun.on(
            ledger, "batch", Files.writeString(folder.resolve("rod.csv"), rod).toString());

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains("line 2", "no edge", "line 3", "needs these in 'read at'");
    assertThat(ledger).doesNotExist();
  }

  private static void isRefused(Ended ended, String... words) {
    assertThat(ended.code()).as(ended.out() + ended.err()).isEqualTo(2);
    assertThat(ended.err()).startsWith("lodestep: ").contains(words);
  }
}
