package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import lodestep.config.ReferenceRig;
import lodestep.port.Command;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import org.junit.jupiter.api.Test;

/**
 * Goal: the virtual winder acts as one at a bench would, on nothing but lamps and buzzer. Method: a
 * scripted host that shows lamps as the real one would, and notes what it sees of her.
 */
class VirtualOperatorTest {

  private static final long PERIOD_NS = 5_000_000L;

  /** Shows "busy" for a while after each press, then a verdict; trips when told to. */
  private static final class LampHost {
    private final VirtualRig rig;
    final List<Long> pressesNs = new ArrayList<>();
    final List<Long> seatedNs = new ArrayList<>();
    final List<Command> commands = new ArrayList<>();
    int deafPresses;
    int tripAtPress = -1;
    int keyTurnsNeeded = 1;
    boolean lidMovedWhileBusy;
    private Outputs shown = Outputs.high(OutputLine.LAMP_READY);
    private Contacts before = new Contacts(0, 0);
    private long busyUntilNs;
    private int keyTurns;
    private boolean tripped;

    LampHost(VirtualRig rig) {
      this.rig = rig;
    }

    void command(Command command) {
      commands.add(command);
      if (tripped && keyTurns >= keyTurnsNeeded) {
        tripped = false;
        shown = Outputs.high(OutputLine.LAMP_READY);
      }
    }

    void scan(long nowNs) {
      Contacts now = rig.lines().read(nowNs);
      note(now, nowNs);
      if (rose(now, InputLine.ARM_KEY)) {
        keyTurns++;
      }
      if (rose(now, InputLine.START_PEDAL)) {
        press(nowNs);
      }
      if (shown.isHigh(OutputLine.LAMP_BUSY) && nowNs - busyUntilNs >= 0) {
        shown = Outputs.high(OutputLine.LAMP_ACCEPT);
      }
      if (shown.isHigh(OutputLine.LAMP_ACCEPT) && !now.closed(InputLine.WORK_SEAT)) {
        shown = Outputs.high(OutputLine.LAMP_READY);
      }
      before = now;
      rig.lines().drive(shown);
    }

    private void note(Contacts now, long nowNs) {
      if (rose(now, InputLine.WORK_SEAT)) {
        seatedNs.add(nowNs);
      }
      boolean lidMoved =
          now.closed(InputLine.LID_A) != before.closed(InputLine.LID_A)
              || now.closed(InputLine.LID_B) != before.closed(InputLine.LID_B);
      lidMovedWhileBusy |= lidMoved && shown.isHigh(OutputLine.LAMP_BUSY);
    }

    private void press(long nowNs) {
      pressesNs.add(nowNs);
      assertThat(rig.lines().read(nowNs).closed(InputLine.LID_A)).isTrue();
      assertThat(rig.lines().read(nowNs).closed(InputLine.LID_B)).isTrue();
      assertThat(rig.lines().read(nowNs).closed(InputLine.ARM_KEY)).isTrue();
      if (pressesNs.size() == tripAtPress) {
        tripped = true;
        keyTurns = 0;
        shown = Outputs.high(OutputLine.BUZZER);
      } else if (pressesNs.size() > deafPresses) {
        shown = Outputs.high(OutputLine.LAMP_BUSY);
        busyUntilNs = nowNs + 12_000_000_000L;
      }
    }

    private boolean rose(Contacts now, InputLine line) {
      return now.closed(line) && !before.closed(line);
    }
  }

  private final VirtualRig rig =
      new VirtualRig(ReferenceRig.virtual(), ReferenceRig.ROD_NEST, 2L, FaultPlan.NONE);
  private final LampHost host = new LampHost(rig);
  private final MarkedMagnet first = new MarkedMagnet(0.0);
  private final MarkedMagnet second = new MarkedMagnet(0.0);

  private VirtualOperator work(String secondNest) {
    VirtualOperator operator =
        new VirtualOperator(
            rig,
            List.of(
                new VirtualOperator.Piece(first, ReferenceRig.ROD_NEST),
                new VirtualOperator.Piece(second, secondNest)),
            host::command,
            99L);
    new VirtualRunner(rig, PERIOD_NS)
        .eachMillisecond(operator::step)
        .eachScan(host::scan)
        .runUntil(() -> operator.done() || operator.gaveUp(), 600_000_000_000L);
    return operator;
  }

  @Test
  void takesEachMagnetThroughWithOnePress() {
    VirtualOperator operator = work(ReferenceRig.ROD_NEST);

    assertThat(operator.done()).isTrue();
    assertThat(operator.unloaded()).isEqualTo(2);
    assertThat(host.pressesNs).hasSize(2);
    assertThat(first.seatings).isEqualTo(1);
    assertThat(second.seatings).isEqualTo(1);
    assertThat(rig.controls().seated()).isEmpty();
  }

  @Test
  void keepsOffTheLidWhileBusyIsLit() {
    work(ReferenceRig.ROD_NEST);

    assertThat(host.lidMovedWhileBusy).isFalse();
  }

  @Test
  void leavesTheNestEmptyLongEnoughForAZero() {
    work(ReferenceRig.ROD_NEST);

    assertThat(host.seatedNs.get(0) - VirtualRig.START_NS).isGreaterThan(1_200_000_000L);
  }

  @Test
  void pressesAgainWhenThePressWasNotTaken() {
    host.deafPresses = 1;

    VirtualOperator operator = work(ReferenceRig.ROD_NEST);

    assertThat(operator.done()).isTrue();
    assertThat(host.pressesNs).hasSize(3);
    assertThat(host.pressesNs.get(1) - host.pressesNs.get(0)).isGreaterThan(3_000_000_000L);
  }

  @Test
  void turnsTheKeyAndGoesOnWithTheSameMagnetAfterATrip() {
    host.tripAtPress = 2;

    VirtualOperator operator = work(ReferenceRig.ROD_NEST);

    assertThat(operator.done()).isTrue();
    assertThat(host.commands).containsExactly(Command.CONTINUE);
    assertThat(host.pressesNs).hasSize(3);
    assertThat(second.seatings).isEqualTo(1);
  }

  @Test
  void turnsTheKeyAgainWhileTheTripStands() {
    host.tripAtPress = 1;
    host.keyTurnsNeeded = 3;

    VirtualOperator operator = work(ReferenceRig.ROD_NEST);

    assertThat(operator.done()).isTrue();
    assertThat(host.commands).hasSize(3);
  }

  @Test
  void givesUpOnATripThatNeverGoes() {
    host.tripAtPress = 1;
    host.keyTurnsNeeded = 1000;

    VirtualOperator operator = work(ReferenceRig.ROD_NEST);

    assertThat(operator.gaveUp()).isTrue();
    assertThat(operator.done()).isFalse();
    assertThat(host.commands).hasSize(VirtualOperator.KEY_TURNS_MAX);
  }

  @Test
  void changesTheNestWhenTheNextMagnetNeedsAnother() {
    VirtualOperator operator = work(ReferenceRig.BAR_NEST);

    assertThat(operator.done()).isTrue();
    assertThat(rig.plant().nestName()).isEqualTo(ReferenceRig.BAR_NEST);
  }
}
