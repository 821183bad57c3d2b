package lodestep.port;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.function.Predicate;

/** Bytes that cannot change: what is stored and hashed. Any thread, immutable. */
public final class Bytes {

  private final byte[] bytes;

  private Bytes(byte[] bytes) {
    this.bytes = bytes;
  }

  /** A copy of these bytes. */
  public static Bytes copyOf(byte[] bytes) {
    return new Bytes(bytes.clone());
  }

  /** The text in UTF-8. */
  public static Bytes ofUtf8(String text) {
    return new Bytes(text.getBytes(StandardCharsets.UTF_8));
  }

  /**
   * Bytes from hexadecimal digits, two a byte.
   *
   * @throws IllegalArgumentException if it is not an even number of hexadecimal digits
   */
  public static Bytes ofHex(String hex) {
    return new Bytes(HexFormat.of().parseHex(hex));
  }

  /** How many there are. */
  public int size() {
    return bytes.length;
  }

  /** A copy as an array. */
  public byte[] toArray() {
    return bytes.clone();
  }

  /** Feeds them to a digest without a copy. */
  public void feed(MessageDigest digest) {
    digest.update(bytes);
  }

  /** What a test that keeps and changes nothing says of them, without a copy. */
  public boolean test(Predicate<byte[]> test) {
    return test.test(bytes);
  }

  /** In lower-case hexadecimal. */
  public String hex() {
    return HexFormat.of().formatHex(bytes);
  }

  /** Read as UTF-8; what is not UTF-8 shows as U+FFFD, so this is for people only. */
  public String utf8() {
    return new String(bytes, StandardCharsets.UTF_8);
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Bytes that && Arrays.equals(bytes, that.bytes);
  }

  @Override
  public int hashCode() {
    return Arrays.hashCode(bytes);
  }

  /** The hexadecimal form. */
  @Override
  public String toString() {
    return hex();
  }
}
