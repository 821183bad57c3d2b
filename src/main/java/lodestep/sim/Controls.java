package lodestep.sim;

import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/**
 * Everything at the bench that a hand can touch, and the lamps and buzzer it answers to. At the
 * start the lid is open, the nest empty, the key off, no stop device pressed. Confined to its rig.
 */
public final class Controls {

  private static final int LID_A = FaultState.bit(InputLine.LID_A);
  private static final int LID_B = FaultState.bit(InputLine.LID_B);
  private static final int STOP_LOOP = FaultState.bit(InputLine.STOP_LOOP);
  private static final int ARM_KEY = FaultState.bit(InputLine.ARM_KEY);
  private static final int START_PEDAL = FaultState.bit(InputLine.START_PEDAL);
  private static final int WORK_SEAT = FaultState.bit(InputLine.WORK_SEAT);

  private int closedBits = STOP_LOOP;
  private Outputs shown = Outputs.ALL_LOW;
  private Optional<SeatedMagnet> seated = Optional.empty();
  private Optional<HeldMagnet> held = Optional.empty();

  Controls() {}

  /** Moves the lid as far as its first contact. */
  public void lidContactA(boolean closed) {
    turn(LID_A, closed);
  }

  /** Moves the lid as far as its second contact. */
  public void lidContactB(boolean closed) {
    turn(LID_B, closed);
  }

  /** Opens or closes the lid with both contacts in the same millisecond. */
  public void lid(boolean closed) {
    turn(LID_A | LID_B, closed);
  }

  /** Presses or releases the stop device. */
  public void stopDevice(boolean pressed) {
    turn(STOP_LOOP, !pressed);
  }

  /** Turns the arm key. */
  public void armKey(boolean on) {
    turn(ARM_KEY, on);
  }

  /** Presses or releases the start pedal. */
  public void pedal(boolean pressed) {
    turn(START_PEDAL, pressed);
  }

  /**
   * Puts a magnet into the nest.
   *
   * @param hand how it lies this time is drawn from here
   */
  public void seat(SeatedMagnet magnet, SplittableRandom hand) {
    magnet.reseat(hand);
    seated = Optional.of(magnet);
    turn(WORK_SEAT, true);
  }

  /** Takes out what is in the nest. */
  public void unseat() {
    seated = Optional.empty();
    turn(WORK_SEAT, false);
  }

  /** The magnet in the nest. */
  public Optional<SeatedMagnet> seated() {
    return seated;
  }

  /** A hand holds an opposing magnet over the work, or none. */
  public void hold(Optional<HeldMagnet> magnet) {
    held = magnet;
  }

  /** The opposing magnet over the work. */
  Optional<HeldMagnet> held() {
    return held;
  }

  /** Whether the lid is shut as far as its first contact: no hand comes to the nest then. */
  public boolean lidShut() {
    return (closedBits & LID_A) != 0;
  }

  /** Whether the arm key is on. */
  public boolean armKeyOn() {
    return (closedBits & ARM_KEY) != 0;
  }

  /** Whether a lamp, or the buzzer, is on. */
  public boolean shows(OutputLine lamp) {
    return shown.isHigh(lamp);
  }

  void show(Outputs outputs) {
    shown = outputs;
  }

  int closedBits() {
    return closedBits;
  }

  private void turn(int bits, boolean closed) {
    closedBits = closed ? closedBits | bits : closedBits & ~bits;
  }
}
