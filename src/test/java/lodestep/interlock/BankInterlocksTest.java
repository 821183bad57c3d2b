package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import org.junit.jupiter.api.Test;

/** What the bank's voltage gives away. */
class BankInterlocksTest {

  private static Bench fire(Bench bench) {
    bench.scanToLine().set(HeadFlag.WINDOW, true).run(20);
    bench.drive(OutputLine.BANK_HOLD, OutputLine.COIL_FIRE).run(60);
    return bench.set(HeadFlag.WINDOW, false).drive(OutputLine.BANK_HOLD);
  }

  @Test
  @Provokes(TripCause.BANK_OVER_VOLTAGE)
  void tripsWhenTheBankIsAboveItsHighestVoltage() {
    Bench bench = Bench.holding(50);
    bench.bankVolts = 51.001;

    assertThat(bench.run(10).tripped()).contains(TripCause.BANK_OVER_VOLTAGE);
  }

  @Test
  @Spares(TripCause.BANK_OVER_VOLTAGE)
  void sparesABankExactlyAtItsHighestVoltage() {
    Bench bench = Bench.holding(51.000);

    assertThat(bench.tripped()).isEmpty();
    assertThat(bench.allows(OutputLine.BANK_FILL)).isFalse();
  }

  @Test
  @Provokes(TripCause.BANK_NOT_FALLING)
  void tripsWhenAPulseDoesNotDrawTheBankDownInTime() {
    Bench bench = fire(Bench.holding(20));

    assertThat(bench.run(500).tripped()).contains(TripCause.BANK_NOT_FALLING);
  }

  @Test
  @Spares(TripCause.BANK_NOT_FALLING)
  void sparesAPulseThatDrawsTheBankDownByATenth() {
    Bench bench = Bench.holding(20);
    fire(bench);
    bench.bankVolts = 18.0;

    assertThat(bench.run(5_000).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.BANK_NOT_FALLING)
  void tripsWhenAPulseDrawsTheBankDownByLessThanATenth() {
    Bench bench = Bench.holding(20);
    fire(bench);
    bench.bankVolts = 18.01;

    assertThat(bench.run(600).tripped()).contains(TripCause.BANK_NOT_FALLING);
  }

  @Test
  @Spares(TripCause.BANK_NOT_FALLING)
  void sparesAFilledBankWhenTheHeadReportsThatItsGateSawNoPulse() {
    Bench bench = fire(Bench.holding(20));
    bench.send(new HeadFrame.PulseReport(17, 5, 9, 0, 0, 20_000, 20_000, 0, false));

    assertThat(bench.run(5_000).tripped()).isEmpty();
  }

  @Test
  @Spares(TripCause.BANK_NOT_FALLING)
  void sparesTheNextFillingRightAfterAPulse() {
    Bench bench = Bench.holding(20);
    fire(bench);
    bench.bankVolts = 8.0;
    bench.run(20).drive(OutputLine.BANK_HOLD, OutputLine.BANK_FILL);

    assertThat(bench.run(2_000).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.BANK_NOT_FALLING)
  void tripsWhenTheBankIsLetGoAndOnlyTheBleederIsLeft() {
    Bench bench = Bench.holding(45).drive();
    double seconds = Bench.BANK.bleederOhms() * Bench.BANK.capacitanceFarads();
    bench.bankRule = Optional.of(volts -> volts * Math.exp(-0.005 / seconds));

    assertThat(bench.run(520).tripped()).contains(TripCause.BANK_NOT_FALLING);
  }

  @Test
  @Provokes(TripCause.BANK_NOT_FALLING)
  void tripsWhenTheBankFallsALittleLessThanHalfAsFastAsItShould() {
    Bench bench = Bench.holding(45).drive();
    double seconds = Bench.BANK.bleedOhms() * Bench.BANK.capacitanceFarads();
    bench.bankRule = Optional.of(volts -> volts * Math.exp(-0.005 * 0.48 / seconds));

    assertThat(bench.run(520).tripped()).contains(TripCause.BANK_NOT_FALLING);
  }

  @Test
  @Spares({TripCause.BANK_NOT_FALLING, TripCause.BANK_RISING})
  void sparesABankThatFallsALittleMoreThanHalfAsFastAsItShould() {
    Bench bench = Bench.holding(45).drive();
    double seconds = Bench.BANK.bleedOhms() * Bench.BANK.capacitanceFarads();
    bench.bankRule = Optional.of(volts -> volts * Math.exp(-0.005 * 0.52 / seconds));

    assertThat(bench.run(20_000).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.BANK_NOT_FALLING)
  void tripsWhenABankFilledBeforeTheStartDoesNotFall() {
    Bench bench = new Bench();
    bench.bankVolts = 30;
    bench.bankRule = Optional.of(volts -> volts);

    assertThat(bench.run(520).tripped()).contains(TripCause.BANK_NOT_FALLING);
  }

  @Test
  @Provokes(TripCause.BANK_RISING)
  void tripsWhenTheBankRisesByMoreThanTheLimitInATenthOfASecond() {
    Bench bench = Bench.ready();
    bench.bankRule = Optional.of(volts -> volts + 0.0101);

    assertThat(bench.run(210).tripped()).contains(TripCause.BANK_RISING);
  }

  @Test
  @Spares(TripCause.BANK_RISING)
  void sparesABankThatRisesByTheLimitInATenthOfASecond() {
    Bench bench = Bench.ready();
    bench.bankRule = Optional.of(volts -> volts + 0.0100);

    assertThat(bench.run(240).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.BANK_RISING)
  void tripsWithinAFifthOfASecondWhenTheFillRelayIsWeldedAndItsMirrorLies() {
    Bench bench = Bench.ready();
    // Supply, fill and bleed resistor in series: 50 V x 22 / 122, with C x (22 parallel 100).
    bench.bankRule = Optional.of(volts -> 9.016 + (volts - 9.016) * Math.exp(-0.005 / 0.397));

    assertThat(bench.run(50).tripped()).contains(TripCause.BANK_RISING);
  }

  @Test
  @Provokes(TripCause.BANK_NOT_FILLING)
  void tripsWithinAQuarterOfASecondWhenTheBankReadsZeroWhileFilling() {
    Bench bench = Bench.ready().drive(OutputLine.BANK_HOLD, OutputLine.BANK_FILL);
    bench.bankRule = Optional.of(volts -> 0);

    assertThat(bench.run(250).tripped()).contains(TripCause.BANK_NOT_FILLING);
  }

  @Test
  @Provokes(TripCause.BANK_NOT_FILLING)
  void tripsWhenTheBankFillsWithALittleLessThanHalfTheCurrent() {
    Bench bench = filling(0.47);

    assertThat(bench.run(300).tripped()).contains(TripCause.BANK_NOT_FILLING);
  }

  @Test
  @Spares(TripCause.BANK_NOT_FILLING)
  void sparesABankThatFillsWithALittleMoreThanHalfTheCurrent() {
    Bench bench = filling(0.53);

    assertThat(bench.run(20_000).tripped()).isEmpty();
  }

  @Test
  @Spares({TripCause.BANK_NOT_FILLING, TripCause.BANK_OVER_VOLTAGE})
  void sparesABankThatHasComeToTheEndOfItsSupply() {
    Bench bench = Bench.ready().drive(OutputLine.BANK_HOLD, OutputLine.BANK_FILL).run(25_000);

    assertThat(bench.tripped()).isEmpty();
    // Thevenin equivalent of 50 V behind 100 ohms with 2 kilohms across it: 50 x 2000 / 2100.
    assertThat(bench.bankVolts).isCloseTo(47.619, within(0.001));
  }

  private static Bench filling(double fraction) {
    Bench bench = Bench.ready().drive(OutputLine.BANK_HOLD, OutputLine.BANK_FILL);
    double seconds = 100 * 2000.0 / 2100.0 * Bench.BANK.capacitanceFarads();
    bench.bankRule =
        Optional.of(volts -> volts + fraction * (47.619 - volts) * -Math.expm1(-0.005 / seconds));
    return bench;
  }

  @Test
  @Provokes(TripCause.BANK_HELD_TOO_LONG)
  void tripsWhenTheBankIsHeldLongerThanTheLimit() {
    Bench bench = Bench.holding(20);

    assertThat(bench.run(29_645).tripped()).contains(TripCause.BANK_HELD_TOO_LONG);
  }

  @Test
  @Spares(TripCause.BANK_HELD_TOO_LONG)
  void sparesABankHeldForTheLimit() {
    Bench bench = Bench.holding(20);

    assertThat(bench.run(29_640).tripped()).isEmpty();
  }

  @Test
  @Spares(TripCause.BANK_HELD_TOO_LONG)
  void countsAnewFromAPulse() {
    Bench bench = Bench.holding(20).run(25_000);
    fire(bench);
    bench.bankVolts = 5;

    assertThat(bench.run(29_000).tripped()).isEmpty();
    assertThat(bench.run(2_000).tripped()).contains(TripCause.BANK_HELD_TOO_LONG);
  }

  @Test
  void countsABankAsLowUpToItsLowLevelAndNoFurther() {
    Bench bench = Bench.ready();
    bench.bankRule = Optional.of(volts -> 10.0);
    boolean at = bench.run(20).state.row().met(Condition.BANK_LOW);
    bench.bankRule = Optional.of(volts -> 10.001);

    assertThat(at).isTrue();
    assertThat(bench.run(20).state.row().met(Condition.BANK_LOW)).isFalse();
  }
}
