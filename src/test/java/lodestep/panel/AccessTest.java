package lodestep.panel;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import org.junit.jupiter.api.Test;

/** Who may look and who may prepare, and what no code and no token gets. */
class AccessTest {

  private static final byte[] SECRET =
      "0123456789abcdef0123456789abcdef".getBytes(StandardCharsets.US_ASCII);

  private Instant wall = Instant.parse("2026-03-02T08:00:00Z");
  private long nowNs = 1;
  private final Access access = access(SECRET);

  private Access access(byte[] secret) {
    return new Access(secret, () -> wall, () -> nowNs);
  }

  private static Access.Scope scope(Access by, String token) {
    return by.pass(token).orElseThrow().scope();
  }

  @Test
  void givesEachCodeItsScopeHoweverItIsTyped() {
    String prepare = access.prepareCode().toLowerCase(Locale.ROOT).replace("-", " ");

    assertThat(scope(access, access.pair(prepare))).isEqualTo(Access.Scope.PREPARE);
    assertThat(scope(access, access.pair(access.lookCode()))).isEqualTo(Access.Scope.LOOK);
  }

  @Test
  void keepsATokenOverARestartWithTheSameSecretAndNotWithAnother() {
    String token = access.pair(access.prepareCode());
    byte[] other = SECRET.clone();
    other[0]++;

    assertThat(access(SECRET).pass(token)).isPresent();
    assertThat(access(other).pass(token)).isEmpty();
  }

  @Test
  void takesATokenThatHasLapsedForAStopAlone() {
    String token = access.pair(access.lookCode());
    wall = wall.plus(Duration.ofDays(366));

    assertThat(access.pass(token)).isEmpty();
    assertThat(access.signedBefore(token)).isPresent();
  }

  @Test
  void takesNoTokenWhoseScopeOrTimeWasChanged() {
    String token = access.pair(access.lookCode());

    assertThat(access.signedBefore(token.replace(".look.", ".prepare."))).isEmpty();
    assertThat(access.signedBefore(token.replaceFirst("\\.(\\d+)\\.", ".9$1."))).isEmpty();
    assertThat(access.signedBefore("")).isEmpty();
    assertThat(access.signedBefore(null)).isEmpty();
  }

  @Test
  void takesNoProofOfAnotherToken() {
    Access.Pass one = access.pass(access.pair(access.lookCode())).orElseThrow();
    Access.Pass two = access.pass(access.pair(access.lookCode())).orElseThrow();

    assertThat(access.isProof(one, access.proof(one))).isTrue();
    assertThat(access.isProof(one, access.proof(two))).isFalse();
    assertThat(access.isProof(one, null)).isFalse();
  }

  @Test
  void closesTheDoorForAMinuteAfterFiveWrongCodes() {
    for (int wrong = 0; wrong < 5; wrong++) {
      assertThatThrownBy(() -> access.pair("WRNG-CODE")).hasMessageContaining("not the code");
    }
    assertThatThrownBy(() -> access.pair(access.prepareCode())).hasMessageContaining("a minute");

    nowNs += Duration.ofSeconds(61).toNanos();

    assertThat(access.pair(access.prepareCode())).isNotEmpty();
  }

  @Test
  void refusesASecretThatIsTooShort() {
    assertThatThrownBy(() -> access(new byte[8])).hasMessageContaining("too short");
  }
}
