package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.config.Limits;
import lodestep.port.OutputLine;
import lodestep.protocol.HeadFlag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** Goal: the gauge is believed only while nothing near it is energised, and never on a guess. */
class QuietTest {

  private static final Limits LIMITS = Limits.standard();

  private static DialScan scan() {
    return new DialScan(1_000 * DialScan.MS);
  }

  private static boolean quiet(DialScan scan) {
    return Quiet.is(scan.view(), LIMITS);
  }

  @Test
  void isQuietAtRest() {
    assertThat(quiet(scan())).isTrue();
    assertThat(Quiet.is(scan().view(), LIMITS, Attempt.ON_BANK)).isTrue();
  }

  @ParameterizedTest
  @EnumSource(
      names = {"COIL_FIRE", "BANK_FILL", "BANK_HOLD", "COIL_ON", "JIG_ENABLE"},
      value = OutputLine.class)
  void isNotQuietWhileItIsDriven(OutputLine line) {
    assertThat(quiet(scan().driven(line))).isFalse();
  }

  @ParameterizedTest
  @EnumSource(
      names = {"COIL_REVERSE", "COIL_FULL", "LAMP_READY"},
      value = OutputLine.class)
  void isQuietWhateverRelayOrLampIsOn(OutputLine line) {
    assertThat(quiet(scan().driven(line))).isTrue();
  }

  @Test
  void isNotQuietWhileNothingIsKnown() {
    DialScan never = scan();
    never.lineBefore = false;
    DialScan just = scan();
    just.lineAgeNs = LIMITS.statusAgeFireNs();
    DialScan old = scan();
    old.lineAgeNs = LIMITS.statusAgeFireNs() + 1;

    assertThat(quiet(never)).isFalse();
    assertThat(quiet(just)).isTrue();
    assertThat(quiet(old)).isFalse();
  }

  @Test
  void isNotQuietWhileAWindowIsOpen() {
    assertThat(quiet(scan().says(HeadFlag.WINDOW))).isFalse();
  }

  /** Coil current counts as none up to 50 mA, the bank as low up to 10 V. */
  @ParameterizedTest
  @CsvSource({
    "50, 0, true",
    "51, 0, false",
    "-50, 0, true",
    "-51, 0, false",
    "0, 10000, true",
    "0, 10001, false"
  })
  void isNotQuietWithACurrentOrAFilledBank(int milliAmps, int milliVolts, boolean quiet) {
    DialScan scan = scan();
    scan.coilMilliAmps = milliAmps;
    scan.bankMilliVolts = milliVolts;

    assertThat(quiet(scan)).isEqualTo(quiet);
  }

  @Test
  void isNotQuietUnderAJigThatIsNotParked() {
    JigDrive jig = Attempt.onJig(false, 9);
    DialScan parked = scan().says(HeadFlag.HOMED, HeadFlag.JIG_HOME, HeadFlag.JIG_FAR);
    parked.positionMicroMetres = 2_000;

    assertThat(Quiet.is(parked.view(), LIMITS, jig)).isTrue();
    parked.positionMicroMetres = 3_000;
    assertThat(Quiet.is(parked.view(), LIMITS, jig)).isFalse();
    assertThat(Quiet.is(parked.view(), LIMITS, Attempt.ON_BANK)).isTrue();
  }
}
