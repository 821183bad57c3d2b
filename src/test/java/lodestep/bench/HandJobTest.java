package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.dial.Drop;
import lodestep.dial.PoleUp;
import lodestep.dial.Task;
import lodestep.dial.Tolerance;
import lodestep.dial.Verdict;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Shape;
import lodestep.measure.GaugeCalibration;
import lodestep.port.Command;
import lodestep.port.Contacts;
import lodestep.port.HandAsk;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;
import lodestep.port.LinkState;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/**
 * Goal: at every turn of work by hand the right thing is asked. Method: a gauge that reads as told.
 */
class HandJobTest {

  private static final RigConfig RIG = ReferenceRig.virtual();
  private static final long LINE_NS = 10_000_000L;
  private static final GaugeCalibration GAUGE =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);

  private final List<LedgerEvent> events = new ArrayList<>();
  private HandJob job = job(new Task.ToLevel(FluxDensity.ofGauss(400), FluxDensity.ofGauss(10)));
  private long nowNs = 5_000_000_000L;
  private int sequence;
  private boolean silent;
  private double gauss;
  private Optional<View.Status> status = Optional.empty();

  private static HandJob job(Task task) {
    PlanRow row =
        new PlanRow(
            1,
            "wren",
            Optional.empty(),
            AlloyBook.standard().find("alnico 5").orElseThrow(),
            new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5)),
            RIG.nest("rod nest"),
            PoleUp.NORTH,
            task,
            1);
    List<LedgerEvent> prologue = List.of(new LedgerEvent.CalibrationSet(500_000, 0, 0, 0, ""));
    return HandJob.begin(HandWork.of(row, RIG, GAUGE, NestSeatings.USUAL, List.of()), prologue);
  }

  private void step(Command... commands) {
    nowNs += LINE_NS;
    List<ReceivedFrame> frames = new ArrayList<>();
    if (!silent) {
      sequence++;
      // A gauge with a count of noise: one that stands still to the digit would be frozen.
      int counts = (int) Math.round(gauss * 50) + sequence % 2;
      HeadFrame.Status line =
          new HeadFrame.Status(sequence, 1, 0, sequence % 256, counts, 2000, 2000, 0, 0, 0, 0);
      frames.add(new ReceivedFrame(line, nowNs));
      status = Optional.of(new View.Status(line, nowNs));
    }
    View view =
        new View(
            nowNs,
            Instant.EPOCH,
            new Contacts(0, nowNs),
            frames,
            status,
            new LinkState(true, 0, ""),
            Outputs.ALL_LOW,
            Outputs.ALL_LOW,
            false,
            Optional.empty(),
            events.size() + 1L,
            new LedgerState(0, Optional.empty()),
            List.of(commands),
            Optional.empty());
    JobStep next = job.step(view);
    assertThat(next.wanted()).isEqualTo(Outputs.ALL_LOW);
    assertThat(next.permit()).isFalse();
    events.addAll(next.events());
    job = (HandJob) next.next();
  }

  /** Steps on until it is asked for something else than to wait. */
  private void settle() {
    for (int i = 0; i < 2000 && job.cue().ask() == HandAsk.WAIT; i++) {
      step();
    }
  }

  private void go(double reads) {
    gauss = reads;
    step(Command.CONTINUE);
    settle();
  }

  /** Zero taken, magnet seated and read as found. */
  private void begun(double asFound) {
    step();
    go(1.5);
    go(1.5 + asFound);
  }

  /** A charge, and a stronger one that does not move it. */
  private void charged(double reads) {
    go(reads);
    assertThat(job.cue().ask()).isEqualTo(HandAsk.CHARGE_NORTH);
    go(reads + 1);
  }

  /** The opposing magnet comes down until the word "stop", and goes again. */
  private void approached(double after) {
    approach(gauss);
    // The hand is late: stray field on top of what comes down for good.
    gauss = after - 60;
    for (int i = 0; i < 20; i++) {
      step();
    }
    gauss = after;
    for (int i = 0; i < 2000 && job.cue().ask() == HandAsk.AWAY; i++) {
      step();
    }
    settle();
  }

  private void approach(double base) {
    for (int i = 0; i < 4000 && job.cue().ask() == HandAsk.CLOSER; i++) {
      gauss = base - i;
      step();
    }
    assertThat(job.cue().ask()).isEqualTo(HandAsk.AWAY);
  }

  @Test
  void beginsWithAnEmptySeat() {
    step();
    assertThat(job.cue().ask()).isEqualTo(HandAsk.LEAVE_EMPTY);
    assertThat(job.magnet()).isEqualTo(2);
  }

  @Test
  void takesNoZeroWithAMagnetAtTheGauge() {
    step();
    go(300);

    assertThat(job.cue().ask()).isEqualTo(HandAsk.LEAVE_EMPTY);
    assertThat(job.sentence()).contains("300.0 G with the seat said to be empty");
    assertThat(events.get(events.size() - 1)).isInstanceOf(LedgerEvent.ZeroRefused.class);
  }

  @Test
  void asksForTheChargeTheOrderWants() {
    begun(0);

    assertThat(job.cue().ask()).isEqualTo(HandAsk.CHARGE_NORTH);
    assertThat(job.sentence()).contains("becomes north", "arm's length");
  }

  @Test
  void asksAgainWhenTheChargeWentTheWrongWayRoundOrWasTooWeak() {
    begun(0);
    go(-600);
    assertThat(job.cue().ask()).isEqualTo(HandAsk.CHARGE_NORTH);
    assertThat(job.sentence()).contains("the wrong way round");
    go(200);

    assertThat(job.cue().ask()).isEqualTo(HandAsk.CHARGE_NORTH);
    assertThat(job.sentence()).contains("did not take the charge");
  }

  @Test
  void asksForAStrongerChargeToProveItFull() {
    begun(0);
    go(640);
    assertThat(job.cue().ask()).isEqualTo(HandAsk.CHARGE_NORTH);
    assertThat(job.sentence()).contains("it took the charge", "with more magnet in the jaws");

    go(645);

    assertThat(job.cue().ask()).isEqualTo(HandAsk.CLOSER);
    assertThat(job.sentence()).contains("a stronger one did not move it");
    assertThat(events)
        .filteredOn(LedgerEvent.ActByHand.class::isInstance)
        .extracting(event -> ((LedgerEvent.ActByHand) event).asked())
        .containsExactly(
            "charge between the jaws, gauge's face north",
            "charge once more between stronger jaws, gauge's face north");
  }

  @Test
  void saysThatAFullChargeIsNotProvenWhenEachStrongerOneMovesIt() {
    begun(0);
    go(560);
    go(600);
    assertThat(job.sentence()).contains("it was not full before");
    go(630);
    assertThat(job.cue().ask()).isEqualTo(HandAsk.CHARGE_NORTH);
    go(650);

    assertThat(job.cue().ask()).isEqualTo(HandAsk.CLOSER);
    assertThat(job.sentence()).contains("that it is full is not proven");
    endsNotProven();
  }

  @Test
  void endsWithTheChargeWhereAFullOneIsAsked() {
    job = job(new Task.FullCharge());
    begun(0);
    go(90);
    assertThat(job.sentence()).contains("did not take the charge");
    go(640);
    go(645);

    assertThat(verdict().verdict() + ": " + verdict().why()).isEqualTo("accepted: charged");
    assertThat(verdict().charges()).isEqualTo(3);
  }

  private LedgerEvent.VerdictGiven verdict() {
    return (LedgerEvent.VerdictGiven) events.get(events.size() - 1);
  }

  @Test
  void saysThatAFullChargeIsNotProvenWhenThereIsNothingStronger() {
    begun(0);
    go(640);
    step(Command.SKIP);

    assertThat(job.cue().ask()).isEqualTo(HandAsk.CLOSER);
    endsNotProven();
  }

  private void endsNotProven() {
    approached(403);
    approached(403);
    assertThat(job.sentence()).contains("accepted", "full charge not proven");
    assertThat(verdict().why()).endsWith("; full charge not proven");
  }

  @Test
  void movesByAsMuchAsOnePerCentAreNoProof() {
    begun(0);
    go(600);
    go(607);
    assertThat(job.cue().ask()).as("1.2 % more").isEqualTo(HandAsk.CHARGE_NORTH);

    go(612);

    assertThat(job.cue().ask()).as("0.8 % more").isEqualTo(HandAsk.CLOSER);
  }

  @Test
  void takesANewChargeToTheSameLevelForAsFullAsTheProvenOne() {
    begun(0);
    charged(640);
    approached(380);
    go(642);
    assertThat(job.cue().ask()).isEqualTo(HandAsk.CLOSER);
  }

  @Test
  void refusesAMagnetThatNeverTakesTheCharge() {
    begun(0);
    for (int i = 0; i < 6; i++) {
      go(200);
    }

    assertThat(((HandJob.Done) job).verdict()).isEqualTo(Verdict.REFUSED);
  }

  @Test
  void guidesDownProvesAndAccepts() {
    begun(0);
    charged(640);
    assertThat(job.sentence()).contains("it took the charge", "it is full", "like poles facing");
    approached(520);
    assertThat(job.cue().ask()).isEqualTo(HandAsk.CLOSER);
    assertThat(job.hand().partDown()).as("121 of 229.5 G down to 410 G").isBetween(0.52, 0.535);
    approached(403);
    assertThat(job.sentence()).contains("the proof");
    approached(403);

    assertThat(((HandJob.Done) job).verdict()).isEqualTo(Verdict.ACCEPTED);
    LedgerEvent.VerdictGiven verdict = verdict();
    assertThat(verdict.fieldMicroTesla()).isBetween(40_000L, 40_300L);
    assertThat(verdict.knockDowns()).isEqualTo(2);
    assertThat(verdict.charges()).isEqualTo(2);
    assertThat(verdict.why()).doesNotContain("not proven");
  }

  @Test
  void saysBelowAndAsksForAnotherCharge() {
    begun(0);
    charged(640);
    approached(380);

    assertThat(job.cue().ask()).isEqualTo(HandAsk.CHARGE_NORTH);
    assertThat(job.sentence()).contains("below; charge again");
  }

  @Test
  void goesOnWhenTheProofMovedIt() {
    begun(0);
    charged(640);
    approached(408);
    approached(404);

    assertThat(job).isNotInstanceOf(HandJob.Done.class);
    assertThat(job.sentence()).contains("The proof moved it");
  }

  @Test
  void neverChargesWhatIsOnlyToComeDown() {
    job =
        job(
            new Task.DownBy(
                new Drop.By(FluxDensity.ofGauss(50)), new Tolerance.Fixed(FluxDensity.ofGauss(8))));
    begun(500);
    assertThat(job.cue().ask()).isEqualTo(HandAsk.CLOSER);
    approached(401.5);

    assertThat(((HandJob.Done) job).verdict()).isEqualTo(Verdict.RECHARGE_NEEDED);
  }

  @Test
  void tellsAtOnceWhenTheHeadFallsSilentNearTheMagnet() {
    begun(0);
    charged(640);
    silent = true;
    for (int i = 0; i < 16; i++) {
      step();
    }

    assertThat(job.cue().ask()).isEqualTo(HandAsk.LOOK);
    assertThat(job.sentence()).contains("The head is silent", "right away");
    silent = false;
    step();
    go(640);
    assertThat(job.cue().ask()).isEqualTo(HandAsk.CLOSER);
  }

  @Test
  void tellsWhenUnlikePolesFace() {
    begun(0);
    charged(640);
    for (int i = 0; i < 40 && job.cue().ask() == HandAsk.CLOSER; i++) {
      gauss += 1;
      step();
    }

    assertThat(job.cue().ask()).isEqualTo(HandAsk.AWAY);
    assertThat(job.sentence()).contains("unlike poles", "turn it over");
  }

  @Test
  void ringsHigherTheNearerItComes() {
    begun(0);
    charged(640);
    double before = job.cue().closeness();
    gauss = 600;
    for (int i = 0; i < 20; i++) {
      step();
    }

    assertThat(before).isLessThan(0.05);
    assertThat(job.cue().closeness()).isBetween(0.3, 0.99);
  }

  @Test
  void endsInAnyStateWhenAPersonSaysSo() {
    begun(0);
    step(Command.FINISH);

    assertThat(job).isInstanceOf(HandJob.Done.class);
    assertThat(job.sentence()).contains("left open: ended by a person");
    assertThat(events.get(events.size() - 1)).isInstanceOf(LedgerEvent.VerdictGiven.class);
    int count = events.size();
    step(Command.FINISH);
    assertThat(events).hasSize(count);
  }
}
