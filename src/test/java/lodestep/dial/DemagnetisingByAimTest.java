package lodestep.dial;

import static lodestep.dial.Moves.assertEnds;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lodestep.device.ActResult.Lesson;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.FaceModel;
import lodestep.magnet.MagnetModel;
import lodestep.magnet.MagnetState;
import lodestep.magnet.Neutral;
import lodestep.magnet.Shape;
import lodestep.measure.SettledReading;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: how a magnet of a kind that is known is brought to nothing by aim, and when the ladders of
 * falling pulses take over. Method: the model of the magnet itself says what a pulse leaves; a
 * reading is known to 10 µT, so that two of them are counted in.
 */
class DemagnetisingByAimTest {

  private static final Length STAND_OFF = Length.ofMm(2);
  private static final FaceModel MAGNET =
      FaceModel.of(
          AlloyBook.standard().find("alnico 5").orElseThrow(),
          new Shape.Rod(Length.ofMm(4.6), Length.ofMm(15)));
  private static final double FULL = MAGNET.chargedField(STAND_OFF).tesla();
  private static final double FIRST_OF_LADDER = MAGNET.saturating().amperesPerMetre();

  /** Found with this, and as many pulses made, by turns of field and reading. */
  private static Attempt found(double tesla, double... fieldAndReading) {
    Attempt attempt = new Attempt().reads(tesla).went(0, Math.abs(tesla));
    attempt.task = new Task.Demagnetise(new FluxDensity(0.5e-3));
    attempt.fullTesla = FULL;
    attempt.coercivityAperM = MAGNET.alloy().coercivityJ().amperesPerMetre();
    attempt.saturatingAperM = FIRST_OF_LADDER;
    attempt.neutral = Optional.of(Neutral.of(MAGNET, STAND_OFF));
    attempt.asFound = attempt.last;
    for (int i = 0; i < fieldAndReading.length; i += 2) {
      went(attempt, fieldAndReading[i], fieldAndReading[i + 1]);
    }
    return attempt;
  }

  private static void went(Attempt attempt, double aperM, double tesla) {
    Neutral.Tried pulse = new Neutral.Tried(new FieldStrength(aperM), new FluxDensity(tesla));
    attempt.tried = Stream.concat(attempt.tried.stream(), Stream.of(pulse)).toList();
    attempt.demagnetising++;
    attempt.pulses++;
    attempt.after(Purpose.DEMAGNETISE, Math.abs(aperM), aperM > 0).reads(tesla);
  }

  private static double fired(Attempt attempt) {
    Move move = attempt.next();
    assertThat(move).isInstanceOf(Move.Fire.class);
    Move.Fire fire = (Move.Fire) move;
    assertThat(fire.purpose()).isEqualTo(Purpose.DEMAGNETISE);
    return (fire.drivesNorth() ? 1 : -1) * fire.field().amperesPerMetre();
  }

  /** What is left of a charged magnet that is so much harder than the nominal one, in tesla. */
  private static double leftBy(double aperM, double harder) {
    MagnetModel own = harder(harder);
    return own.polarisationTesla(own.afterPulse(own.charged(), new FieldStrength(aperM)));
  }

  private static MagnetModel harder(double factor) {
    MagnetModel nominal = MAGNET.model();
    return new MagnetModel(nominal.loop().scaled(1, factor), nominal.demagnetisingFactor());
  }

  @Test
  void aimsTheFirstPulseSoThatItLeavesANominalMagnetWithNothing() {
    double south = fired(found(FULL));

    assertThat(south).isNegative();
    assertThat(leftBy(south, 1)).isCloseTo(0, within(1e-5));
    // The other pole is the same magnet turned over.
    assertThat(fired(found(-FULL))).isCloseTo(-south, within(1e-6));
  }

  @Test
  void aimsByWhatOtherMagnetsOfTheKindHaveShown() {
    Attempt attempt = found(FULL);
    attempt.memory = attempt.memory.after(new Lesson("neutral point of tried kind", 1.1, 1));
    assertThat(leftBy(fired(attempt), 1.1)).isCloseTo(0, within(1e-5));

    Attempt other = found(FULL);
    other.memory = other.memory.after(new Lesson("neutral point of another kind", 1.1, 1));
    assertThat(leftBy(fired(other), 1)).isCloseTo(0, within(1e-5));
  }

  /**
   * A minor loop stays inside the one that it began on (Madelung's rules): a weaker one will do.
   */
  @Test
  void aimsBackWithAWeakerPulseWhereTheFirstWentBeyondNothing() {
    double beyond = fired(found(FULL)) * 1.1;

    double back = fired(found(FULL, beyond, -0.1 * FULL));

    assertThat(back).isPositive().isLessThan(-beyond);
  }

  // Its end.

  @ParameterizedTest
  @CsvSource({"0.00047", "-0.00047"})
  void acceptsWhatCameUncharged(double tesla) {
    assertEnds(found(tesla).next(), Verdict.ACCEPTED, "uncharged as it came");
  }

  @Test
  void acceptsAReadingOfTheVeryLimitButNoneWhoseDoubtReachesBeyond() {
    Attempt limit = found(FULL, -60_000, 0.5e-3);
    limit.last = Optional.of(Attempt.reading(0.5e-3, 0));
    assertEnds(limit.next(), Verdict.ACCEPTED, "uncharged");

    assertThat(found(FULL, -60_000, 0.49e-3).next()).isInstanceOf(Move.Fire.class);
    assertThat(found(FULL, -60_000, -0.49e-3).next()).isInstanceOf(Move.Fire.class);
  }

  /** It stands on one side, and the last pulse is the one whose like moves it again. */
  @Test
  void saysByHowManyPulsesItIsUnchargedAndWhichFieldMovesItAgain() {
    assertEnds(
        found(FULL, -62_340, 0.0001).next(),
        Verdict.ACCEPTED,
        "uncharged after one aimed pulse, on one side",
        "nearly as strong as the last, 62.3 kA/m");
    assertEnds(
        found(FULL, -65_000, -0.002, 21_480, 0.0001).next(),
        Verdict.ACCEPTED,
        "uncharged after 2 aimed pulses, on one side",
        "nearly as strong as the last, 21.5 kA/m");
  }

  // The ladders, which do without knowing.

  private static double[] pulses(int made) {
    double[] turns = new double[2 * made];
    for (int i = 0; i < made; i++) {
      turns[2 * i] = -60_000 - 100 * i;
      turns[2 * i + 1] = 0.002;
    }
    return turns;
  }

  @Test
  void goesOverToTheLaddersAfterTenPulsesThatDidNotDo() {
    assertThat(fired(found(FULL, pulses(9)))).isBetween(-0.8 * FIRST_OF_LADDER, 0.0);

    // The ladder turns the field over with each pulse, from the last aimed one on.
    assertThat(fired(found(FULL, pulses(10)))).isCloseTo(FIRST_OF_LADDER, within(0.5));
  }

  /** Aimed pulses are no rungs: a ladder is gone down from its top, by a fifth each time. */
  @ParameterizedTest
  @ValueSource(ints = {1, 3, 10})
  void countsTheRungsOfALadderFromItsFirstPulse(int aimed) {
    double[] turns = Arrays.copyOf(pulses(aimed), 2 * aimed + 4);
    turns[2 * aimed] = FIRST_OF_LADDER;
    turns[2 * aimed + 1] = 0.05;

    Attempt one = found(FULL, Arrays.copyOf(turns, 2 * aimed + 2));
    assertThat(fired(one)).isCloseTo(-0.8 * FIRST_OF_LADDER, within(0.5));

    turns[2 * aimed + 2] = -0.8 * FIRST_OF_LADDER;
    turns[2 * aimed + 3] = -0.05;
    assertThat(fired(found(FULL, turns))).isCloseTo(0.64 * FIRST_OF_LADDER, within(0.5));
  }

  /** A coil that warms gives a little less than is asked of it: still the ladder's first. */
  @Test
  void takesAPulseALittleShortOfTheLaddersFirstForIt() {
    assertThat(fired(found(FULL, -60_000, 0.002, 0.91 * FIRST_OF_LADDER, 0.05)))
        .isCloseTo(-0.8 * FIRST_OF_LADDER, within(0.5));
    // One that is weaker by more is an aimed one, and what it left is nothing: the end.
    assertEnds(
        found(FULL, -60_000, 0.002, 0.79 * FIRST_OF_LADDER, 0.0001).next(),
        Verdict.ACCEPTED,
        "2 aimed pulses");
  }

  @Test
  void goesDownALadderToItsEndThoughItReadsNothingHalfway() {
    assertThat(fired(found(FULL, -60_000, 0.002, FIRST_OF_LADDER, 0.0001)))
        .isCloseTo(-0.8 * FIRST_OF_LADDER, within(0.5));
  }

  /** Eight tenths of the ladder's first are the strongest pulse that is aimed. */
  @Test
  void goesByLaddersWhereThePulseNeededIsNearlyAsStrongAsTheirFirst() {
    double needed = -fired(found(FULL));
    Attempt strong = found(FULL);
    strong.saturatingAperM = needed / 0.79;
    Attempt weak = found(FULL);
    weak.saturatingAperM = needed / 0.81;

    assertThat(fired(strong)).isCloseTo(-needed, within(0.5));
    assertThat(fired(weak)).isCloseTo(-needed / 0.81, within(0.5));
  }

  @Test
  void goesByLaddersWhereNobodyKnowsTheKind() {
    Attempt attempt = found(FULL, -60_000, 0.002);
    attempt.neutral = Optional.empty();
    assertThat(fired(attempt)).isCloseTo(0.8 * FIRST_OF_LADDER, within(0.5));
  }

  /**
   * A source of certain fields can aim at none, and where its first rung came out weaker than was
   * asked it is a rung all the same: 60 kA/m are asked, with 28 told back.
   */
  @Test
  void goesByLaddersWhereTheSourceHasCertainFieldsOnly() {
    Attempt first = found(FULL);
    first.knockDown = Attempt.onSupply(32.0, 16.0, 8.0);
    assertThat(fired(first)).isCloseTo(-60_000, within(0.5));

    Attempt second = found(FULL, -28_000, 0.05);
    second.knockDown = first.knockDown;
    assertThat(fired(second)).isCloseTo(0.8 * 60_000, within(0.5));
  }

  // What it teaches of its kind.

  /** Found charged, as full a magnet as this of the kind can be, and read after its next pulse. */
  private static RigMemory taught(double harder, double foundPart, double sign, double... before) {
    MagnetModel own = harder(harder);
    double full = reads(own, own.charged());
    Attempt attempt = found(sign * foundPart * full, before);
    attempt.after(Purpose.DEMAGNETISE, 60_000, sign < 0);
    MagnetState after = own.afterPulse(own.charged(), new FieldStrength(-60_000));
    SettledReading left = Attempt.reading(sign * reads(own, after));
    return Learning.afterReading(attempt.dial(), left).memory();
  }

  private static double reads(MagnetModel own, MagnetState state) {
    return MAGNET.at(STAND_OFF).tesla(own.polarisationTesla(state));
  }

  @ParameterizedTest
  @CsvSource({"1.1, 1", "1.1, -1", "0.93, 1"})
  void learnsFromTheFirstPulseOnAChargedMagnetHowHardItsKindIs(double harder, double sign) {
    assertThat(taught(harder, 1, sign).ratios())
        .hasEntrySatisfying(
            "neutral point of tried kind", it -> assertThat(it).isCloseTo(harder, within(0.002)))
        .hasSize(1);
  }

  @Test
  void learnsNothingFromASecondPulse() {
    assertThat(taught(1.1, 1, 1, -50_000, 0.02).ratios()).isEmpty();
  }

  /** What reads less than half of a full charge may have had any past. */
  @Test
  void learnsNothingFromAMagnetThatWasNotFoundCharged() {
    assertThat(taught(1, 0.51, 1).ratios()).isNotEmpty();
    assertThat(taught(1, 0.49, 1).ratios()).isEmpty();
  }

  @Test
  void learnsNothingOfAKindThatNobodyKnows() {
    Attempt attempt = found(FULL).after(Purpose.DEMAGNETISE, 60_000, false);
    attempt.neutral = Optional.empty();

    Dial dial = Learning.afterReading(attempt.dial(), Attempt.reading(0.01));

    assertThat(dial.memory().ratios()).isEmpty();
    assertThat(dial.progress().tried()).hasSize(1);
  }

  /** The pulse is kept with its sign, which way it drove and what it left. */
  @Test
  void keepsEachPulseWithItsSign() {
    Attempt south = found(FULL).after(Purpose.DEMAGNETISE, 60_000, false);
    Attempt north = found(-FULL).after(Purpose.DEMAGNETISE, 60_000, true);

    assertThat(tried(south)).containsExactly(new Neutral.Tried(new FieldStrength(-60_000), LEFT));
    assertThat(tried(north)).containsExactly(new Neutral.Tried(new FieldStrength(60_000), LEFT));
  }

  private static final FluxDensity LEFT = new FluxDensity(0.01);

  private static List<Neutral.Tried> tried(Attempt attempt) {
    return Learning.afterReading(attempt.dial(), Attempt.reading(LEFT.tesla())).progress().tried();
  }
}
