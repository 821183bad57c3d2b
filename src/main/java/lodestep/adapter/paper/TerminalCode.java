package lodestep.adapter.paper;

import java.util.ArrayList;
import java.util.List;

/** A square code for a terminal: two modules in a sign, light on dark or dark on light. Pure. */
public final class TerminalCode {

  private static final String BACK = "\u001b[0m";

  /** Dark on light whatever the terminal's own colours are (ECMA-48: SGR 30, 107). */
  private static final String DARK_ON_LIGHT = "\u001b[30;107m";

  private TerminalCode() {}

  /**
   * The code of this text, line by line, with the light margin that a reader needs.
   *
   * @throws IllegalArgumentException if it is too long for one
   */
  public static List<String> lines(String text) {
    SquareCode code = SquareCode.of(text);
    int from = -SquareCode.QUIET;
    int to = code.side() + SquareCode.QUIET;
    List<String> lines = new ArrayList<>();
    for (int down = from; down < to; down += 2) {
      StringBuilder line = new StringBuilder(DARK_ON_LIGHT);
      for (int across = from; across < to; across++) {
        boolean upper = dark(code, across, down);
        boolean lower = dark(code, across, down + 1);
        line.append(upper ? lower ? '█' : '▀' : lower ? '▄' : ' ');
      }
      lines.add(line.append(BACK).toString());
    }
    return lines;
  }

  private static boolean dark(SquareCode code, int across, int down) {
    boolean inside = across >= 0 && down >= 0 && across < code.side() && down < code.side();
    return inside && code.dark(across, down);
  }
}
