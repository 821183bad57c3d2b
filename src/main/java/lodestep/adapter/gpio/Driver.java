package lodestep.adapter.gpio;

import com.pi4j.io.gpio.digital.DigitalInputProvider;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalOutputProvider;
import java.util.Optional;
import java.util.function.BooleanSupplier;

/**
 * Which of the library's ways to the lines is taken. It is always named and never found by the
 * library itself: where the library does not know the board it would take pretended lines, if it
 * finds any, and the program would believe that it drives relays.
 */
interface Driver {

  /** What it is called, for people: the driver and the board. */
  String words();

  /**
   * Why this computer's lines cannot be driven: one sentence; empty when nothing speaks against it.
   */
  Optional<String> obstacle();

  /** Makes outputs; a new one for each opening. */
  DigitalOutputProvider outputs();

  /** Makes inputs; a new one for each opening. */
  DigitalInputProvider inputs();

  /**
   * Reads the level that really stands at an output, live. The library's own {@code state()} of an
   * output only remembers what was last asked of it.
   */
  BooleanSupplier levelOf(DigitalOutput output);
}
