package lodestep.device;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import lodestep.config.JigConfig;
import lodestep.config.ShippedRig;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.RefusalReason;
import org.junit.jupiter.api.Test;

/**
 * Goal: the jig is never sent further than 4 mm beyond where it is, counts as there only with its
 * position proven and seen in a new line, and gives up when it stands. Method: each stage is
 * stepped just at and just beyond its limit.
 */
class JigMoveTest {

  private static final long T = 1_000_000_000_000L;
  private static final long MS = 1_000_000L;
  private static final JigConfig JIG = ShippedRig.read("rig-virtual-jig.toml").jig().orElseThrow();
  private static final Outputs ON = Outputs.high(OutputLine.JIG_ENABLE);

  private static JigMove through(Integer... micro) {
    return JigMove.through(JIG, List.of(micro), T);
  }

  private static Scans at(long ns, int microMetres) {
    Scans scan = new Scans(T + ns).driven(OutputLine.JIG_ENABLE).says(HeadFlag.HOMED);
    scan.positionMicroMetres = microMetres;
    return scan.says(HeadFlag.JIG_HOME, HeadFlag.JIG_FAR);
  }

  private static Scans atHome(long ns) {
    Scans scan = at(ns, 0);
    scan.flags &= ~HeadFlag.JIG_HOME.bit();
    return scan;
  }

  /** On its way from this place. */
  private static JigMove going(JigMove move, int fromMicroMetres) {
    return move.step(at(0, fromMicroMetres).view()).next();
  }

  private static void assertGoes(JigMove.Step step) {
    assertThat(step.wanted()).isEqualTo(ON);
    assertThat(step.permit()).isTrue();
    assertThat(step.next().done()).isFalse();
  }

  private static void assertOver(JigMove.Step step, String why) {
    assertThat(step.wanted()).isEqualTo(Outputs.ALL_LOW);
    assertThat(step.permit()).isFalse();
    assertThat(step.requests()).isEmpty();
    assertThat(step.next().done()).isTrue();
    assertThat(step.next().failed().orElse("")).contains(why);
  }

  @Test
  void asksForNothingUntilPermitAndDriverAreSeen() {
    JigMove begins = through(9_000, 0);
    Scans noDriver = at(3_000 * MS, 500);
    noDriver.driven = Outputs.ALL_LOW;
    Scans noPermit = at(3_000 * MS, 500);
    noPermit.flags &= ~HeadFlag.PERMIT.bit();

    assertGoes(begins.step(noDriver.view()));
    assertThat(begins.step(noDriver.view()).next()).isEqualTo(begins);
    assertThat(begins.step(noPermit.view()).next()).isEqualTo(begins);
    assertThat(begins.step(noPermit.view()).requests()).isEmpty();
    assertThat(begins.begun()).isFalse();
    noDriver.nowNs++;
    noPermit.nowNs++;
    assertOver(begins.step(noDriver.view()), "did not come");
    assertOver(begins.step(noPermit.view()), "did not come");
    assertThat(begins.step(noPermit.view()).next().begun()).isFalse();
    JigMove.Step begun = begins.step(at(5, 500).view());
    assertGoes(begun);
    assertThat(begun.requests()).isEmpty();
    assertThat(begun.next().begun()).isTrue();
    assertThat(begun.next().lowestMicroMetres()).isEqualTo(500);
  }

  @Test
  void isSentFourMillimetresAheadAndFurtherOnlyWhenNearlyThere() {
    JigMove.Step first = going(through(9_000), 500).step(at(5, 500).line());
    JigMove sent = first.next();

    assertGoes(first);
    assertThat(first.requests()).containsExactly(new HeadRequest.MoveTo(4_500));
    assertThat(sent.step(at(10, 3_000).line()).requests()).as("1.5 mm left").isEmpty();
    assertThat(sent.step(at(10, 3_001).line()).requests())
        .containsExactly(new HeadRequest.MoveTo(7_001));
    assertThat(sent.step(at(10, 5_000).line()).requests())
        .as("never beyond the target")
        .containsExactly(new HeadRequest.MoveTo(9_000));
    assertThat(sent.step(at(10, 3_000).line()).next().lowestMicroMetres()).isEqualTo(3_000);
    assertThat(sent.step(at(10, 400).line()).next().lowestMicroMetres()).isEqualTo(500);
  }

  @Test
  void goesBackAndHomeInOneMove() {
    assertThat(going(through(2_000), 9_000).step(at(5, 9_000).line()).requests())
        .containsExactly(new HeadRequest.MoveTo(2_000));
    assertThat(going(through(0), 9_000).step(at(5, 9_000).line()).requests())
        .containsExactly(new HeadRequest.MoveTo(0));
    assertThat(going(through(0), -9_000).step(at(5, -9_000).line()).requests())
        .as("home is sought at the switch, wherever the count stands")
        .containsExactly(new HeadRequest.MoveTo(0));
  }

  /** The head stops there by itself; a driver that runs on does not, while it is fed. */
  @Test
  void givesUpAtOnceWhereTheFarSwitchOpensAndLeavesItOnlyForHome() {
    Scans far = at(10, 60_000);
    far.flags &= ~HeadFlag.JIG_FAR.bit();

    assertOver(sentTo(62_000, 58_000).step(far.line()), "the far switch opened");
    assertOver(sentTo(2_000, 60_000).step(far.line()), "the far switch opened");
    assertGoes(going(through(0), 60_000).step(far.line()));
  }

  private static JigMove sentTo(int target, int from) {
    return going(through(target, 1_000), from).step(at(1, from).line()).next();
  }

  @Test
  void isThereOnlyInANewLineWithAProvenPositionWithin25MicroMetres() {
    JigMove sent = sentTo(3_000, 2_000);
    Scans unproven = at(10, 3_000);
    unproven.flags &= ~HeadFlag.HOMED.bit();

    assertThat(sent.step(at(10, 2_975).line()).next().stage()).isEqualTo(JigMove.Stage.DWELL);
    assertThat(sent.step(at(10, 3_025).line()).next().stage()).isEqualTo(JigMove.Stage.DWELL);
    assertThat(sent.step(at(10, 2_974).line()).next().stage()).isEqualTo(JigMove.Stage.GO);
    assertThat(sent.step(at(10, 3_026).line()).next().stage()).isEqualTo(JigMove.Stage.GO);
    assertThat(sent.step(at(10, 3_000).view()).next().stage()).isEqualTo(JigMove.Stage.GO);
    assertThat(sent.step(unproven.line()).next().stage()).isEqualTo(JigMove.Stage.GO);
    assertGoes(sent.step(at(10, 3_000).line()));
  }

  @Test
  void isNotThereAtAHalt() {
    JigMove sent = going(through(9_000, 0), 4_990).step(at(1, 4_990).line()).next();

    assertThat(sent.step(at(10, 8_990).line()).next().stage()).isEqualTo(JigMove.Stage.GO);
    assertThat(sent.step(at(10, 8_990).line()).requests())
        .containsExactly(new HeadRequest.MoveTo(9_000));
  }

  @Test
  void isHomeOnlyAtTheOpenSwitchWithItsCountProven() {
    JigMove sent = sentTo(0, 2_000);
    Scans unproven = atHome(10);
    unproven.flags &= ~HeadFlag.HOMED.bit();

    assertThat(sent.step(at(10, 0).line()).next().stage()).isEqualTo(JigMove.Stage.GO);
    assertThat(sent.step(unproven.line()).next().stage()).isEqualTo(JigMove.Stage.GO);
    assertThat(sent.step(atHome(10).line()).next().stage()).isEqualTo(JigMove.Stage.DWELL);
  }

  @Test
  void dwells60MillisecondsAndGoesOnOrEnds() {
    JigMove dwells = sentTo(3_000, 2_000).step(at(0, 3_000).line()).next();
    JigMove last = dwells.step(at(60 * MS, 3_000).line()).next();

    assertThat(dwells.step(at(60 * MS - 1, 3_000).line()).next()).isEqualTo(dwells);
    assertGoes(dwells.step(at(60 * MS - 1, 3_000).line()));
    assertGoes(dwells.step(at(60 * MS, 3_000).line()));
    assertThat(last.targetsMicroMetres()).containsExactly(1_000);
    assertThat(last.lowestMicroMetres()).isEqualTo(3_000);
    assertThat(last.step(at(61 * MS, 3_000).line()).requests())
        .containsExactly(new HeadRequest.MoveTo(1_000));
    JigMove ends =
        last.step(at(61 * MS, 3_000).line()).next().step(at(70 * MS, 1_000).line()).next();
    JigMove.Step over = ends.step(at(130 * MS, 1_000).line());
    assertOver(over, "");
    assertThat(over.next().failed()).isEmpty();
    assertOver(over.next().step(at(140 * MS, 1_000).line()), "");
  }

  @Test
  void givesUpASecondAndAHalfAfterItMovedLast() {
    JigMove sent = sentTo(3_000, 2_000);
    JigMove moved = sent.step(at(900 * MS, 2_500).line()).next();

    assertGoes(sent.step(at(1_500 * MS + 1, 2_000).line()));
    assertOver(sent.step(at(1_500 * MS + 2, 2_000).line()), "2.00 mm from home");
    assertGoes(moved.step(at(2_400 * MS, 2_500).line()));
    assertOver(moved.step(at(2_400 * MS + 1, 2_500).line()), "did not move any more");
    assertThat(moved.step(at(2_400 * MS + 1, 2_500).line()).next().begun()).isTrue();
  }

  @Test
  void endsWhenTheHeadRefusesAMoveAndNotWhenItRefusesAPulse() {
    JigMove sent = sentTo(3_000, 2_000);

    assertOver(
        sent.step(at(10, 2_000).line(new HeadFrame.Refused(9, RefusalReason.NOT_SAFE, 0))),
        "refused to move");
    assertGoes(sent.step(at(10, 2_000).line(new HeadFrame.Refused(9, RefusalReason.NOT_SAFE, 4))));
  }

  @Test
  void isParkedOnlyProvenAtItsPlaceWithTheDriverOff() {
    int park = (int) JIG.screw().park().microMetres();
    Scans parked = at(0, park + 50).driven();
    Scans unproven = at(0, park).driven();
    unproven.flags &= ~HeadFlag.HOMED.bit();
    Scans atSwitch = at(0, park).driven();
    atSwitch.flags &= ~HeadFlag.JIG_HOME.bit();

    assertThat(JigMove.parked(JIG, parked.view())).isTrue();
    assertThat(JigMove.parked(JIG, at(0, park - 50).driven().view())).isTrue();
    assertThat(JigMove.parked(JIG, at(0, park + 51).driven().view())).isFalse();
    assertThat(JigMove.parked(JIG, at(0, park - 51).driven().view())).isFalse();
    assertThat(JigMove.parked(JIG, at(0, park).view())).isFalse();
    assertThat(JigMove.parked(JIG, unproven.view())).isFalse();
    assertThat(JigMove.parked(JIG, atSwitch.view())).isFalse();
  }

  @Test
  void isNotThereForAnyOtherFrame() {
    JigMove sent = sentTo(3_000, 2_000);
    HeadFrame other = new HeadFrame.Refused(9, RefusalReason.NOT_SAFE, 4);

    assertThat(sent.step(at(10, 3_000).view(other)).next().stage()).isEqualTo(JigMove.Stage.GO);
  }
}
