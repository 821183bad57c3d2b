package lodestep.adapter.serial;

import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadLineWriter;

/** A head's status line whose sequence alone matters. */
final class StatusLine {

  private StatusLine() {}

  static byte[] numbered(int sequence) {
    return HeadLineWriter.line(
        new HeadFrame.Status(sequence, 77, sequence * 10L, 1, 420, 2_300, 2_400, 5, 0, 0, 0));
  }
}
