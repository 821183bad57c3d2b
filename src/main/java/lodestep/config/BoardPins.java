package lodestep.config;

import java.util.Optional;

/**
 * Which numbers of the board's header a line may have. The numbers are those of the chip (BCM), not
 * of the header's places.
 *
 * <p>Pull resistors at power-on: BCM2835 ARM Peripherals, table of alternative functions, column
 * "pull": 0 to 8 high, 9 to 27 low; from memory. Lines 2 and 3 have fixed resistors of 1.8 kΩ to
 * 3.3 V on the board (the board's circuit diagram; from memory).
 */
final class BoardPins {

  /** The header has lines 0 to 27. */
  static final int NUMBER_MAX = 27;

  private static final int IDENTITY_MAX = 1;
  private static final int FIXED_PULL_UP_MAX = 3;
  private static final int PULLED_UP_AT_START_MAX = 8;
  private static final int CONSOLE_FIRST = 14;
  private static final int CONSOLE_LAST = 15;

  private BoardPins() {}

  /**
   * Why a line must not be on this number.
   *
   * @param number 0 to {@value #NUMBER_MAX}
   * @param output whether the host drives the line
   */
  static Optional<String> objection(int number, boolean output) {
    if (number <= IDENTITY_MAX) {
      return Optional.of("the board uses it to ask add-on boards who they are");
    }
    if (number <= FIXED_PULL_UP_MAX) {
      return Optional.of(
          "the board pulls it up by a fixed resistor, so a broken wire reads closed");
    }
    if (number >= CONSOLE_FIRST && number <= CONSOLE_LAST) {
      return Optional.of("the board's console talks on it while it starts");
    }
    if (output && number <= PULLED_UP_AT_START_MAX) {
      return Optional.of("the board pulls it up until the program runs; outputs go on 9 to 27");
    }
    return Optional.empty();
  }
}
