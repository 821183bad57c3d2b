package lodestep.app;

import java.io.InputStream;
import java.util.Map;
import java.util.function.Function;
import java.util.function.Supplier;
import lodestep.adapter.gpio.GpioLines;
import lodestep.adapter.sound.SpeakerTone;
import lodestep.port.Lines;
import lodestep.port.Tone;
import lodestep.sim.FaultPlan;

/**
 * What the program finds around it on the computer.
 *
 * @param typedIn what a person types, line by line
 * @param terminal whether a person watches
 * @param tones opens the sound device
 * @param board opens a board's lines by these pins; throws what {@link GpioLines#open} throws
 * @param broken what is broken on the virtual rig inside the program
 */
record Outside(
    InputStream typedIn,
    boolean terminal,
    Supplier<Tone.Opening> tones,
    Function<Map<String, Integer>, Lines> board,
    FaultPlan broken) {

  /** With nothing broken. */
  Outside(
      InputStream typedIn,
      boolean terminal,
      Supplier<Tone.Opening> tones,
      Function<Map<String, Integer>, Lines> board) {
    this(typedIn, terminal, tones, board, FaultPlan.NONE);
  }

  /** The same with this broken on the virtual rig inside the program. */
  Outside with(FaultPlan faults) {
    return new Outside(typedIn, terminal, tones, board, faults);
  }

  /** The computer as it is. */
  static Outside usual(InputStream typedIn, boolean terminal) {
    return new Outside(typedIn, terminal, SpeakerTone::open, GpioLines::open);
  }

  /** Where nobody types. */
  static Outside unattended() {
    return usual(InputStream.nullInputStream(), false);
  }
}
