package lodestep.cli;

import java.io.PrintWriter;

/** Lines that stay, and on a terminal one line below them that is kept up to date. One thread. */
final class Screen {

  /** Back to the line's begin, and erase to its end (ECMA-48: CR, EL). */
  private static final String AGAIN = "\r\u001b[K";

  private final PrintWriter out;
  private final boolean terminal;
  private boolean pending;

  Screen(PrintWriter out, boolean terminal) {
    this.out = out;
    this.terminal = terminal;
  }

  boolean terminal() {
    return terminal;
  }

  /** A line that stays. */
  void stay(String line) {
    out.println((pending ? AGAIN : "") + line);
    out.flush();
    pending = false;
  }

  /** The line that is kept up to date; nothing where there is no terminal. */
  void keep(String line) {
    if (terminal) {
      out.print(AGAIN + line);
      out.flush();
      pending = true;
    }
  }

  /** One stroke of the terminal's bell. */
  void bell() {
    if (terminal) {
      out.print('\u0007');
      out.flush();
    }
  }

  /** Leaves the line that was kept up to date as it is. */
  void end() {
    if (pending) {
      out.println();
      out.flush();
      pending = false;
    }
  }
}
