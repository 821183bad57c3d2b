package lodestep.port;

/**
 * A SHA-256 hash. Any thread, immutable.
 *
 * @param bytes {@value #SIZE_BYTES} of them
 */
public record Hash(Bytes bytes) {

  /** Length of a SHA-256 hash (FIPS 180-4). */
  public static final int SIZE_BYTES = 32;

  /** What stands before the first event of every chain: all zero. */
  public static final Hash ZERO = new Hash(Bytes.copyOf(new byte[SIZE_BYTES]));

  /**
   * @throws IllegalArgumentException if there are not {@value #SIZE_BYTES} bytes
   */
  public Hash {
    if (bytes.size() != SIZE_BYTES) {
      throw new IllegalArgumentException(
          "a hash has " + SIZE_BYTES + " bytes, not " + bytes.size());
    }
  }

  /**
   * A hash from its 64 hexadecimal digits, upper or lower case.
   *
   * @throws IllegalArgumentException if it is anything else
   */
  public static Hash ofHex(String hex) {
    return new Hash(Bytes.ofHex(hex));
  }

  /** In lower-case hexadecimal. */
  @Override
  public String toString() {
    return bytes.hex();
  }
}
