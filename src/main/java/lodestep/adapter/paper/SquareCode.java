package lodestep.adapter.paper;

import com.google.zxing.WriterException;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import com.google.zxing.qrcode.encoder.ByteMatrix;
import com.google.zxing.qrcode.encoder.Encoder;

/** A square code (QR code, ISO/IEC 18004) as dark and light modules. Pure. */
final class SquareCode {

  /** Light modules that a reader needs around it: four, by ISO/IEC 18004. */
  static final int QUIET = 4;

  private final ByteMatrix modules;

  private SquareCode(ByteMatrix modules) {
    this.modules = modules;
  }

  /**
   * The code of this text; a sixth of it may be soiled.
   *
   * @throws IllegalArgumentException if it is too long for one
   */
  static SquareCode of(String text) {
    try {
      return new SquareCode(Encoder.encode(text, ErrorCorrectionLevel.M).getMatrix());
    } catch (WriterException tooLong) {
      throw new IllegalArgumentException("too long for a square code: " + text, tooLong);
    }
  }

  /** Modules along a side. */
  int side() {
    return modules.getWidth();
  }

  /** Whether a module is dark; the first one is at the top left. */
  boolean dark(int across, int down) {
    return modules.get(across, down) == 1;
  }
}
