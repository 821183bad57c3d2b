package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.config.RigConfig;
import lodestep.config.ShippedRig;
import lodestep.device.BankLeft;
import lodestep.device.Carried;
import lodestep.device.RigWear;
import lodestep.device.UsualCurrents;
import lodestep.dial.GapCurve;
import lodestep.dial.Move;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.RigMemory;
import lodestep.dial.Task;
import lodestep.dial.Verdict;
import lodestep.dial.Zero;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.Shape;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.GaugeZero;
import lodestep.port.Command;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;
import lodestep.port.LinkState;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;

/**
 * Goal: what lay in the nest when a trip came does not count as charged by hand, and nothing that
 * is charged comes under a jig that stands low. Method: a rig whose contacts the test closes.
 */
class LoadingTest {

  private static final List<InputLine> SHUT =
      List.of(InputLine.LID_A, InputLine.LID_B, InputLine.STOP_LOOP, InputLine.ARM_KEY);
  private static final int PARK = 2_000;
  private static final int LOW = 50_000;

  private long nowNs = 1_000_000_000L;
  private int position = PARK;
  private int hallCounts;
  private int sequence;

  private View view(boolean seated, boolean pedal) {
    nowNs += 5_000_000L;
    List<InputLine> closed = new ArrayList<>(SHUT);
    if (seated) {
      closed.add(InputLine.WORK_SEAT);
    }
    if (pedal) {
      closed.add(InputLine.START_PEDAL);
    }
    int flags =
        HeadFlag.HOMED.bit()
            | HeadFlag.JIG_HOME.bit()
            | HeadFlag.JIG_FAR.bit()
            | HeadFlag.CHAIN.bit();
    HeadFrame.Status line =
        new HeadFrame.Status(
            ++sequence, 7, 1_000, 1, hallCounts, 2_150, 2_150, 0, 0, position, flags);
    return new View(
        nowNs,
        Instant.EPOCH,
        Contacts.of(closed, nowNs),
        List.of(new ReceivedFrame(line, nowNs)),
        Optional.of(new View.Status(line, nowNs)),
        new LinkState(true, 0, ""),
        Outputs.ALL_LOW,
        Outputs.ALL_LOW,
        true,
        Optional.empty(),
        40,
        new LedgerState(39, Optional.empty()),
        List.of(),
        Optional.empty());
  }

  /** A rod that is to be dialed in the rod nest. */
  static PlanRow rod(RigConfig rig) {
    return new PlanRow(
        1,
        "rod",
        Optional.empty(),
        AlloyBook.standard().find("alnico 5").orElseThrow(),
        new Shape.Rod(Length.ofMm(4.9), Length.ofMm(16.5)),
        rig.nest("rod nest"),
        PoleUp.NORTH,
        new Task.ToLevel(new FluxDensity(0.06), new FluxDensity(0.001)),
        1);
  }

  private static Batch batch(String file) {
    RigConfig rig = ShippedRig.read(file);
    PlanRow row = rod(rig);
    GaugeZero zero = new GaugeZero(0, 1, 50, 50);
    return new Batch(
        "plan",
        "0".repeat(64),
        "",
        3,
        Entry.planned(List.of(row), rig),
        PlannerMode.CURVE,
        RigMemory.none(),
        Optional.of(new Zero(zero, 12)),
        new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001),
        5,
        NestSeatings.USUAL);
  }

  /** The pedal goes up and is pressed. */
  private BatchJob pressed(BatchJob job, boolean seated) {
    BatchJob up = (BatchJob) job.step(view(seated, false)).next();
    return (BatchJob) up.step(view(seated, true)).next();
  }

  @Test
  void startsNothingThatIsChargedByHandBeforeTheNestWasSeenEmpty() {
    Batch batch = batch("rig-virtual-jig.toml");
    BatchJob after = BatchJob.loading(batch, view(true, false));
    assertThat(after).isInstanceOf(BatchJob.Loading.class);
    assertThat(after.sentence()).startsWith("take out what is in the nest; charge rod");

    BatchJob still = pressed(after, true);
    assertThat(still).as("it lay there when the trip came").isInstanceOf(BatchJob.Loading.class);

    BatchJob emptied = (BatchJob) still.step(view(false, false)).next();
    assertThat(emptied.sentence()).startsWith("charge rod between the jaws");
    assertThat(pressed(emptied, true)).isInstanceOf(BatchJob.Dialing.class);
  }

  private BatchJob forTwoSeconds(BatchJob job, boolean seated) {
    BatchJob now = job;
    for (int scan = 0; scan < 400 && now instanceof BatchJob.Loading; scan++) {
      now = (BatchJob) now.step(view(seated, false)).next();
    }
    return now;
  }

  /** A trip makes no old zero young: what the gauge sees over the empty nest is looked at again. */
  @Test
  void takesTheZeroAnewAfterATripOnceTheNestIsEmpty() {
    Batch batch = batch("rig-virtual-coil-and-jig.toml");
    BatchJob.Loading after = (BatchJob.Loading) BatchJob.loading(batch, view(true, false));

    assertThat(after.zero().taken()).as("for the magnet that may lie there").isTrue();
    assertThat(forTwoSeconds(after, true)).isInstanceOf(BatchJob.Loading.class);
    hallCounts = 20;
    BatchJob.Loading near = (BatchJob.Loading) forTwoSeconds(after, false);
    assertThat(near.batch().zero().orElseThrow().gauge().counts()).isBetween(19.999, 20.001);
    assertThat(near.batch().zero().orElseThrow().number()).isNotEqualTo(12);
    hallCounts = -500;
    assertThat(forTwoSeconds(after, false))
        .as("1 mT is no wander")
        .isInstanceOf(BatchJob.Attention.class);
  }

  /** A work seat whose switch does not see the magnet that lies in it. */
  @Test
  void takesNoFirstZeroOfAMagnet() {
    Batch batch = batch("rig-virtual.toml").with(Optional.<Zero>empty());
    hallCounts = 25_000;
    BatchJob job = forTwoSeconds(BatchJob.loading(batch, view(false, false)), false);

    assertThat(job).isInstanceOf(BatchJob.Attention.class);
    assertThat(job.sentence()).contains("500.0 G with the seat empty");
    hallCounts = 400;
    job = forTwoSeconds(BatchJob.loading(batch, view(false, false)), false);
    assertThat(job).as("8 G is the gauge's own").isInstanceOf(BatchJob.Loading.class);
  }

  /** The opposing magnet came off after its field was measured, so that it is not in the zero. */
  @Test
  void takesNoFirstZeroThatIsNotWhatTheParkedJigShowed() {
    GapCurve parked =
        new GapCurve(1, 0, new FluxDensity(-1.07e-3), Optional.of(new FluxDensity(-0.6e-3)));
    Batch batch =
        batch("rig-virtual-coil-and-jig.toml")
            .with(Optional.<Zero>empty())
            .with(RigMemory.none().with(parked));
    hallCounts = -280;
    BatchJob near = forTwoSeconds(BatchJob.Loading.fresh(batch, false), false);
    assertThat(((BatchJob.Loading) near).batch().zero()).as("0.4 G is wander").isPresent();
    hallCounts = 235;
    BatchJob lost = forTwoSeconds(BatchJob.Loading.fresh(batch, false), false);
    assertThat(lost).isInstanceOf(BatchJob.Attention.class);
    assertThat(lost.sentence())
        .contains("shows 4.7 G and showed -6.0 G; see that the opposing magnet is on its carriage");
    BatchJob after = (BatchJob) lost.step(goOn()).next();
    assertThat(after).as("its field is measured again").isInstanceOf(BatchJig.AskEmptyNest.class);
  }

  @Test
  void startsWhatTheCoilChargesFromWhereItLies() {
    BatchJob after = BatchJob.loading(batch("rig-virtual-coil-and-jig.toml"), view(true, false));

    assertThat(pressed(after, true)).isInstanceOf(BatchJob.Dialing.class);
  }

  @Test
  void asksForAnEmptyNestWhenTheJigStandsLowAndTheMagnetComesCharged() {
    position = LOW;

    BatchJob byHand = BatchJob.loading(batch("rig-virtual-jig.toml"), view(true, false));
    BatchJob byCoil = BatchJob.loading(batch("rig-virtual-coil-and-jig.toml"), view(true, false));

    assertThat(byHand).isInstanceOf(BatchJig.AskEmptyNest.class);
    assertThat(pressed(byHand, true)).isInstanceOf(BatchJig.AskEmptyNest.class);
    assertThat(pressed(byHand, false)).isInstanceOf(BatchJig.MeasureJig.class);
    assertThat(pressed(byCoil, true)).isInstanceOf(BatchJig.HomeJig.class);
  }

  /** A program that died between the last verdict and the end of the batch leaves nothing to do. */
  @Test
  void provesNoJigForABatchWithNothingLeft() {
    Batch batch = batch("rig-virtual-jig.toml").with(Optional.<Zero>empty());
    Entry entry = batch.entries().get(0);
    Entry done =
        new Entry(
            entry.prepared(),
            1,
            entry.magnet(),
            1,
            Optional.empty(),
            Optional.of(new Move.Finish(Verdict.ACCEPTED, "held")),
            Optional.empty());

    BatchJob after = BatchJob.loading(batch.with(done), view(false, false));

    assertThat(after).isInstanceOf(BatchJig.AskEmptyNest.class);
    assertThat(after.step(view(false, false)).next()).isInstanceOf(BatchJob.Done.class);
  }

  private View goOn() {
    View seen = view(false, false);
    return new View(
        seen.nowNs(),
        seen.wall(),
        seen.contacts(),
        seen.frames(),
        seen.status(),
        seen.link(),
        seen.driven(),
        seen.allowed(),
        seen.bankProven(),
        seen.trip(),
        seen.nextNumber(),
        seen.ledger(),
        List.of(Command.CONTINUE),
        seen.plan());
  }

  @Test
  void waitsForAPersonToSeeToTheCoilAfterATripToo() {
    UsualCurrents off = UsualCurrents.UNKNOWN;
    for (int i = 0; i < UsualCurrents.ENOUGH; i++) {
      off = off.with(new Carried("rod coil", true, 1.0));
    }
    off = off.with(new Carried("rod coil", true, 1.25));
    RigMemory known = RigMemory.none().with(new RigWear(BankLeft.UNKNOWN, off));
    Batch batch = batch("rig-virtual.toml").with(known);

    // "Go on" after a trip is said of the trip.
    JobStep after = new BatchJob.Tripped(batch, Optional.empty(), nowNs, "lid").step(goOn());
    assertThat(after.events()).containsExactly(new LedgerEvent.PersonAsked("continue"));
    assertThat(after.next()).isInstanceOf(BatchJob.Attention.class);

    JobStep seen = after.next().step(goOn());
    assertThat(seen.events())
        .containsExactly(
            new LedgerEvent.PersonAsked("continue"),
            new LedgerEvent.CoilSeenTo("rod coil", true, 250_000));
    assertThat(seen.next()).isInstanceOf(BatchJob.Loading.class);
  }
}
