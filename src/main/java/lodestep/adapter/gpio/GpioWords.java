package lodestep.adapter.gpio;

import java.util.Locale;
import java.util.Optional;

/** What a person is told about a line: what, where, what to do. Pure. */
final class GpioWords {

  private GpioWords() {}

  /** As the line is called in rig.toml. */
  static String name(Enum<?> line) {
    return line.name().toLowerCase(Locale.ROOT);
  }

  private static String pin(Enum<?> line, int number) {
    return "pin " + number + " of '" + name(line) + "'";
  }

  static String notHad(Enum<?> line, int number, Throwable why) {
    return pin(line, number)
        + " cannot be had ("
        + deepest(why)
        + "); if another program or a function of the board uses it (the command gpioinfo tells),"
        + " end that, or name another pin in rig.toml";
  }

  static String noLibrary(Throwable why) {
    return "the board's library does not start ("
        + deepest(why)
        + "); see that the board runs a 64-bit or 32-bit system of its own for ARM and that the"
        + " folder for temporary files may be written and run from";
  }

  static String notRead(Enum<?> line, int number, Throwable why) {
    return pin(line, number)
        + " cannot be read ("
        + deepest(why)
        + "); everything was lowered; look at the board, then start again";
  }

  static String notDriven(Enum<?> line, int number, Throwable why) {
    return pin(line, number)
        + " cannot be driven ("
        + deepest(why)
        + "); everything else was lowered; switch the rig's supply off and look at the board";
  }

  /** What the first cause says, as that is the system's own word. */
  private static String deepest(Throwable thrown) {
    Throwable deepest = thrown;
    Throwable cause = thrown.getCause();
    while (cause != null && cause != deepest) {
      deepest = cause;
      cause = cause.getCause();
    }
    return Optional.ofNullable(deepest.getMessage()).orElse(deepest.getClass().getSimpleName());
  }
}
