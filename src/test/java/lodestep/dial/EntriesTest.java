package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import lodestep.measure.SettledReading;
import lodestep.port.KeepingEvent;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;
import lodestep.quantity.TimeSpan;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: what an attempt puts on record, figure by figure, and the band it was judged by. */
class EntriesTest {

  private static final SettledReading READING = Attempt.reading(0.0601);

  @Test
  void recordsAReadingWithAllThatItStandsOn() {
    DialScan scan = new DialScan(0);
    scan.gaugeCentiDegC = 2_345;
    Attempt attempt = new Attempt();
    attempt.gainUncertainty = 0.001;

    LedgerEvent taken = Entries.reading(attempt.dial(), "charged", READING, scan.view());

    // The root of 10 µT squared and a thousandth of 60.1 mT squared: 60.926 µT.
    assertThat(taken)
        .isEqualTo(
            new LedgerEvent.ReadingTaken(
                7, "charged", 60_100, 60_926, 50, 2_345, "tried nest", 2_000, 4, 2));
    scan.lineBefore = false;
    assertThat(
            ((LedgerEvent.ReadingTaken)
                    Entries.reading(attempt.dial(), "charged", READING, scan.view()))
                .gaugeCentiDegC())
        .isZero();
  }

  @Test
  void recordsAChargeByHand() {
    Attempt attempt = new Attempt();
    attempt.pulses = 5;

    assertThat(Entries.chargedByHand(attempt.dial(), READING))
        .isEqualTo(
            new LedgerEvent.ActByHand(
                7,
                3,
                5,
                "charge",
                true,
                "charge between the jaws, gauge's face north, before it was put in; not read"
                    + " before",
                0,
                60_100,
                0));
    attempt.pole = PoleUp.SOUTH;
    attempt.reads(-0.002);
    assertThat(Entries.chargedByHand(attempt.dial(), READING))
        .isEqualTo(
            new LedgerEvent.ActByHand(
                7,
                3,
                5,
                "charge",
                false,
                "charge between the jaws, gauge's face south",
                -2_000,
                60_100,
                0));
  }

  @ParameterizedTest
  @CsvSource({
    "NORTH, 0.05, true",
    "NORTH, 0.03, false",
    "NORTH, -0.05, false",
    "SOUTH, -0.05, true",
    "SOUTH, 0.05, false"
  })
  void takesOnlyTheAskedPoleForACharge(PoleUp pole, double tesla, boolean took) {
    Attempt attempt = new Attempt().reads(tesla);
    attempt.pole = pole;

    assertThat(Entries.tookCharge(attempt.dial())).isEqualTo(took);
  }

  @Test
  void takesNoReadingForNoCharge() {
    assertThat(Entries.tookCharge(new Attempt().dial())).isFalse();
  }

  @Test
  void recordsAVerdictWithTheBandItWasGivenBy() {
    Attempt attempt = new Attempt().reads(0.0601);
    attempt.charges = 2;
    attempt.knockDowns = 4;
    attempt.demagnetising = 6;

    assertThat(Entries.verdict(attempt.dial(), Verdict.ACCEPTED, "held"))
        .isEqualTo(
            new LedgerEvent.VerdictGiven(
                7, 3, "accepted", 60_100, 10_000, 60_000, 1_000, 20_000, 2, 4, 6, "held"));
    attempt.last = Optional.empty();
    assertThat(Entries.verdict(attempt.dial(), Verdict.TRIPPED, "lid"))
        .isEqualTo(
            new LedgerEvent.VerdictGiven(7, 3, "tripped", 0, 0, 60_000, 1_000, 0, 2, 4, 6, "lid"));
  }

  private static void assertBand(Attempt attempt, double target, double tolerance, double guard) {
    Band band = Band.of(attempt.dial());

    assertThat(band.target().tesla()).isCloseTo(target, within(1e-12));
    assertThat(band.tolerance().tesla()).isCloseTo(tolerance, within(1e-12));
    assertThat(band.guard().tesla()).isCloseTo(guard, within(1e-12));
  }

  @Test
  void takesTheBandOfARelativeTaskFromTheFirstReadingEver() {
    Attempt attempt = new Attempt();
    attempt.task = Attempt.downBy(0.04, 0.001);
    assertBand(attempt, 0, 0, 0);

    attempt.asFound = Optional.of(Attempt.reading(0.09));
    assertBand(attempt, 0.05, 0.001, 0);
    attempt.foundBefore = Optional.of(new FluxDensity(0.1));
    assertBand(attempt, 0.06, 0.001, 0);
    attempt.reads(0.06);
    assertBand(attempt, 0.06, 0.001, 20e-6);
  }

  /** The gain's part has no share in it: it is a part of next to nothing. */
  @Test
  void guardsTheUnchargedLimitByTheReadingAlone() {
    Attempt attempt = new Attempt();
    attempt.gainUncertainty = 0.01;
    attempt.task = new Task.Demagnetise(new FluxDensity(0.5e-3));
    assertBand(attempt, 0, 0.5e-3, 0);

    attempt.reads(0.1);
    assertBand(attempt, 0, 0.5e-3, 20e-6);
  }

  /** 60 mT at 20 °C when it was accepted; now 59.6 mT at 25, of which 0.1 per cent is warmth. */
  @Test
  void recordsWhatAMagnetIsFoundToBeWhenItIsReadAgain() {
    Attempt attempt = new Attempt();
    attempt.gainUncertainty = 0.001;
    attempt.again = Optional.of(accepted());
    DialScan scan = new DialScan(0);
    scan.gaugeCentiDegC = 2_500;
    DialState.Settle read = DialState.Settle.after(attempt.dial(), "read again", 0);

    DialStep step = read.taken(Attempt.reading(0.0596), scan.view());

    // 59.6 / 0.999 - 60 mT. Its doubt: two readings of 10 and 50 µT, two seatings of 0.15 per cent
    // (127.3 µT together), two temperatures of a kelvin (17 µT), five kelvin at 1e-4 (30 µT). That
    // of
    // the reading alone has a thousandth of it from the gain, which both readings share.
    assertThat(step.events()).hasSize(2);
    KeepingEvent.MagnetReread reread = (KeepingEvent.MagnetReread) step.events().get(1);
    assertThat(reread)
        .isEqualTo(
            new KeepingEvent.MagnetReread(
                7,
                17,
                DialScan.NEXT_NUMBER,
                59_600,
                60_433,
                -340_340,
                141_379,
                -200_000,
                2_592_000,
                "kept",
                reread.why()));
    assertThat(reread.why()).startsWith("it reads 596.0 G, at equal temperature 3.4 G weaker");
    assertThat(step.next())
        .isInstanceOfSatisfying(
            DialState.Finished.class,
            end -> assertThat(end.finish().why()).isEqualTo("kept: " + reread.why()));
  }

  private static Accepted accepted() {
    return new Accepted(
        17,
        new FluxDensity(0.06),
        FluxDensity.ofGauss(0.5),
        true,
        Temperature.ofDegC(20),
        new FluxDensity(0.06),
        FluxDensity.ofGauss(8),
        new TimeSpan(30 * 86_400),
        FluxDensity.ofGauss(2),
        -2e-4,
        1e-4,
        0.0015);
  }
}
