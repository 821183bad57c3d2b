package lodestep.protocol;

/**
 * CRC-16/CCITT-FALSE: width 16, polynomial 1021, start value FFFF, nothing reflected, nothing
 * inverted at the end (the parameters are those of the catalogue of parametrised CRC algorithms,
 * where it also stands as CRC-16/IBM-3740).
 *
 * <p>It finds every error of one, two or three bits and every burst of up to 16 bits in lines as
 * short as ours.
 */
public final class Crc16 {

  private static final int POLYNOMIAL = 0x1021;
  private static final int START = 0xFFFF;
  private static final int TOP_BIT = 0x8000;

  private Crc16() {}

  /**
   * The CRC of a text, one byte per character.
   *
   * @param text characters 0 to 255 only; of any other the low eight bits count
   * @return 0 to 65535
   */
  public static int of(String text) {
    int crc = START;
    for (int i = 0; i < text.length(); i++) {
      crc = with(crc, text.charAt(i));
    }
    return crc;
  }

  private static int with(int crc, int octet) {
    int next = crc ^ ((octet & 0xFF) << 8);
    for (int bit = 0; bit < 8; bit++) {
      next = (next & TOP_BIT) == 0 ? next << 1 : (next << 1) ^ POLYNOMIAL;
    }
    return next & 0xFFFF;
  }
}
