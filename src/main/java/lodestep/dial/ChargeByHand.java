package lodestep.dial;

import java.util.List;
import java.util.Optional;
import lodestep.dial.Move.Fire;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.View;

/**
 * A person takes the magnet out, charges it between jaws, puts it back, closes the lid and presses
 * the pedal. Nothing is energised, so the lid may be open.
 *
 * @param taken whether it was taken out since it was asked for
 * @param pedalUp whether the pedal has been seen up since it was put back
 */
public record ChargeByHand(Dial dial, Fire move, boolean taken, boolean pedalUp)
    implements DialState {

  static ChargeByHand asking(Dial dial, Fire move) {
    return new ChargeByHand(dial, move, false, false);
  }

  @Override
  public DialStep step(View view) {
    boolean in = view.contacts().closed(InputLine.WORK_SEAT);
    boolean shut =
        view.contacts().closed(InputLine.LID_A) && view.contacts().closed(InputLine.LID_B);
    boolean pedal = view.contacts().closed(InputLine.START_PEDAL);
    boolean out = taken || !in;
    boolean ready =
        out
            && in
            && shut
            && view.contacts().closed(InputLine.ARM_KEY)
            && view.contacts().closed(InputLine.STOP_LOOP);
    if (ready && pedalUp && pedal) {
      Dial charged = dial.with(dial.progress().fired(move));
      return DialStep.quiet(
          DialState.Settle.after(charged, Entries.stageAfter(Purpose.CHARGE), view.nowNs()));
    }
    return new DialStep(
        new ChargeByHand(dial, move, out, ready && !pedal),
        Outputs.high(OutputLine.LAMP_READY),
        false,
        List.of(),
        List.of(),
        Optional.empty());
  }

  @Override
  public HandCue cue() {
    return HandCue.of(move.drivesNorth() ? HandAsk.CHARGE_NORTH : HandAsk.CHARGE_SOUTH);
  }

  @Override
  public String sentence() {
    String face = move.drivesNorth() ? "north" : "south";
    boolean first = dial.progress().counts().charges() <= 1;
    String how =
        first
            ? "take it out and charge it between the jaws"
            : Entries.tookCharge(dial)
                ? "take it out and charge it once more, longer or between stronger magnets, to"
                    + " prove that it is full"
                : "it did not take the charge; take it out and charge it again, right into the"
                    + " jaws";
    return how
        + ", the face that looks at the gauge "
        + face
        + "; put it back, close the lid and press the pedal";
  }
}
