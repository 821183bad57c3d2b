package lodestep.panel;

import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.Locale;
import java.util.Optional;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import lodestep.port.MonotonicClock;
import lodestep.port.WallClock;
import org.jspecify.annotations.Nullable;

/**
 * Who may look and who may prepare work. A code shown at the rig is exchanged for a token, which is
 * signed (HMAC-SHA256, RFC 2104) and so holds over a restart of the program. Any thread.
 */
public final class Access {

  /** What a token is good for. */
  public enum Scope {
    /** To watch, and to stop. */
    LOOK,
    /**
     * To prepare work as well: plans, pauses, drawn hands. Firing takes key and pedal at the rig.
     */
    PREPARE;

    /** As it stands in a token and in answers. */
    String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /** A token that holds, or held once. */
  record Pass(String id, Scope scope, long untilEpochSeconds) {}

  /** No letter or digit that is taken for another one; 8 of them are 40 bits. */
  private static final String SIGNS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ";

  private static final int CODE_SIGNS = 8;
  private static final long HOLDS_SECONDS = 365L * 24 * 3600;
  private static final int TRIES_MAX = 5;
  private static final long TRIES_NS = 60_000_000_000L;
  private static final String ALGORITHM = "HmacSHA256";

  private final SecretKeySpec secret;
  private final WallClock wall;
  private final MonotonicClock clock;
  private final SecureRandom random = new SecureRandom();
  private final String prepareCode = code();
  private final String lookCode = code();

  private int tries;
  private long triesFromNs;

  /**
   * @param secret by which tokens are signed, at least 32 bytes; whoever has it may do all
   */
  public Access(byte[] secret, WallClock wall, MonotonicClock clock) {
    if (secret.length < 32) {
      throw new IllegalArgumentException("a secret of " + secret.length + " bytes is too short");
    }
    this.secret = new SecretKeySpec(secret, ALGORITHM);
    this.wall = wall;
    this.clock = clock;
  }

  private String code() {
    StringBuilder code = new StringBuilder();
    for (int i = 0; i < CODE_SIGNS; i++) {
      code.append(i == CODE_SIGNS / 2 ? "-" : "").append(SIGNS.charAt(random.nextInt(32)));
    }
    return code.toString();
  }

  /** The code for whoever prepares work, as it is shown at the rig. */
  public String prepareCode() {
    return prepareCode;
  }

  /** The code for whoever only looks. */
  public String lookCode() {
    return lookCode;
  }

  /**
   * A token for this code. Capitals, blanks and the dash do not count.
   *
   * @throws Refused when it is no code, or too many wrong ones came within a minute
   */
  synchronized String pair(String typed) {
    long nowNs = clock.nowNs();
    if (tries == 0 || nowNs - triesFromNs > TRIES_NS) {
      tries = 0;
      triesFromNs = nowNs;
    }
    if (tries >= TRIES_MAX) {
      throw new Refused(429, "too many codes", "too many wrong codes; wait a minute");
    }
    String plain = typed.toUpperCase(Locale.ROOT).replaceAll("[^0-9A-Z]", "");
    if (same(plain, prepareCode.replace("-", ""))) {
      return token(Scope.PREPARE);
    }
    if (same(plain, lookCode.replace("-", ""))) {
      return token(Scope.LOOK);
    }
    tries++;
    throw new Refused(403, "wrong code", "that is not the code shown at the rig");
  }

  private String token(Scope scope) {
    byte[] id = new byte[16];
    random.nextBytes(id);
    long until = wall.now().getEpochSecond() + HOLDS_SECONDS;
    String body = base64(id) + "." + scope.word() + "." + until;
    return body + "." + base64(signed("token " + body));
  }

  /** What this token is good for; empty if it is none of ours, or has lapsed. */
  Optional<Pass> pass(@Nullable String token) {
    return signedBefore(token)
        .filter(pass -> pass.untilEpochSeconds() > wall.now().getEpochSecond());
  }

  /** Whose token this is, though it may have lapsed: enough for a stop. */
  Optional<Pass> signedBefore(@Nullable String token) {
    if (token == null || !token.matches("[\\w-]{22}\\.(look|prepare)\\.[0-9]{1,15}\\.[\\w-]{43}")) {
      return Optional.empty();
    }
    int end = token.lastIndexOf('.');
    String body = token.substring(0, end);
    if (!same(base64(signed("token " + body)), token.substring(end + 1))) {
      return Optional.empty();
    }
    String[] parts = body.split("\\.", -1);
    Scope scope = parts[1].equals(Scope.LOOK.word()) ? Scope.LOOK : Scope.PREPARE;
    return Optional.of(new Pass(parts[0], scope, Long.parseLong(parts[2])));
  }

  /** What the page must send with each act, besides the cookie that the browser sends by itself. */
  String proof(Pass pass) {
    return base64(signed("act " + pass.id()));
  }

  /** Whether this is the token's own proof. */
  boolean isProof(Pass pass, @Nullable String sent) {
    return sent != null && same(proof(pass), sent);
  }

  private byte[] signed(String text) {
    try {
      Mac mac = Mac.getInstance(ALGORITHM);
      mac.init(secret);
      return mac.doFinal(text.getBytes(StandardCharsets.UTF_8));
    } catch (GeneralSecurityException missing) {
      throw new IllegalStateException("this Java has no " + ALGORITHM, missing);
    }
  }

  private static String base64(byte[] bytes) {
    return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
  }

  /** In a time that does not tell how much of it was right. */
  private static boolean same(String one, String other) {
    return MessageDigest.isEqual(
        one.getBytes(StandardCharsets.UTF_8), other.getBytes(StandardCharsets.UTF_8));
  }
}
