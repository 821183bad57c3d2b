package lodestep.voice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Collections;
import java.util.List;
import java.util.Optional;
import lodestep.magnet.Against;
import lodestep.magnet.AlloyBook;
import lodestep.magnet.FaceModel;
import lodestep.magnet.Place;
import lodestep.magnet.Shape;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;

/** Goal: a pickup with pole pieces is described in its own terms, and wrong ones are refused. */
class PolePiecesTest {

  private static final Length PITCH = Length.ofMm(10.2);
  private static final List<Boolean> NORTH = Collections.nCopies(6, true);
  private static final Length STAND_OFF = Length.ofMm(1.4);

  private static PolePieces poles(PolePieces.Arranged arranged) {
    return new PolePieces(arranged, Length.ofMm(4.6), Length.ofMm(14), PITCH, 6, Optional.empty());
  }

  private static LevelField bar(Shape.Axis axis) {
    Shape.Bar bar = new Shape.Bar(Length.ofMm(57), Length.ofMm(11), Length.ofMm(3.1), axis);
    return new LevelField(
        FaceModel.of(AlloyBook.standard().find("alnico 2").orElseThrow(), bar), STAND_OFF);
  }

  private static PickupField field(LevelField level, PolePieces.Arranged arranged) {
    return new PickupField(level, 6, PITCH, Optional.of(poles(arranged)), NORTH);
  }

  /** With soft poles all goes in proportion to the bar's own polarisation. */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void halfABarsPolarisationIsHalfTheFieldAtTheStrings() {
    LevelField level = bar(Shape.Axis.THROUGH_WIDTH);
    PickupField field = field(level, PolePieces.Arranged.BETWEEN_ROWS);
    FluxDensity less = level.part(0.5);
    Length away = Length.ofMm(2.8);

    double ratio = field.atString(2, less, away) / field.atString(2, level.full(), away);

    assertThat(ratio)
        .isCloseTo(level.meanTesla(less) / level.meanTesla(level.full()), within(1e-9));
    assertThat(ratio).isBetween(0.4, 0.55);
    assertThat(field.inSteel(level.full()).orElseThrow().tesla()).isBetween(0.05, 1.4);
    assertThat(field.range(level.full())).containsPattern("Most in a pole 0.[0-9]+ T, [0-9]+ %");
  }

  /** A row is its own mirror image, and its ends are the weakest. */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void theOutermostPolesAreTheWeakest() {
    LevelField level = bar(Shape.Axis.THROUGH_WIDTH);
    PickupField field = field(level, PolePieces.Arranged.BETWEEN_ROWS);
    Length away = Length.ofMm(2.8);
    double first = field.atString(0, level.full(), away);

    assertThat(field.atString(5, level.full(), away)).isCloseTo(first, within(1e-6 * first));
    assertThat(field.atString(2, level.full(), away)).isGreaterThan(first);
  }

  /** Two bars give more than one, and a bar under a row drives it too. */
  @Test
  void eachArrangementDrivesItsPoles() {
    LevelField across = bar(Shape.Axis.THROUGH_WIDTH);
    Length away = Length.ofMm(2.8);
    double one = field(across, PolePieces.Arranged.BETWEEN_ROWS).atString(2, across.full(), away);
    double two = field(across, PolePieces.Arranged.EITHER_SIDE).atString(2, across.full(), away);
    LevelField upright = bar(Shape.Axis.THROUGH_THICKNESS);
    double under = field(upright, PolePieces.Arranged.UNDER).atString(2, upright.full(), away);

    assertThat(two).isGreaterThan(1.2 * one);
    assertThat(under).isBetween(1e-3, one);
  }

  @Test
  void refusesWhatDoesNotGoTogether() {
    LevelField across = bar(Shape.Axis.THROUGH_WIDTH);
    assertThatThrownBy(() -> field(across, PolePieces.Arranged.UNDER))
        .hasMessageContaining("charged through its thickness");
    assertThatThrownBy(
            () ->
                new PolePieces(
                    PolePieces.Arranged.BETWEEN_ROWS,
                    Length.ofMm(12),
                    Length.ofMm(14),
                    PITCH,
                    6,
                    Optional.empty()))
        .hasMessageContaining("apart");
    assertThatThrownBy(() -> PolePieces.Arranged.read("beside"))
        .hasMessageContaining("\"under one row\"");
    PolePieces.Keeper narrow =
        new PolePieces.Keeper(Length.ofMm(57), Length.ofMm(3), Length.ofMm(3));
    assertThatThrownBy(
            () ->
                new PolePieces(
                    PolePieces.Arranged.EITHER_SIDE,
                    Length.ofMm(4.6),
                    Length.ofMm(14),
                    PITCH,
                    6,
                    Optional.of(narrow)))
        .hasMessageContaining("keeper");
  }

  /** A string runs across a bar: along it the field falls off faster than along the bar. */
  @Test
  void stringsCrossABareBar() {
    LevelField level = bar(Shape.Axis.THROUGH_WIDTH);
    PickupField field = new PickupField(level, 6, PITCH, Optional.empty(), NORTH);
    double along = field.above(2, level.full()).at(new Place(6e-3, 0, 2.8e-3)).zTesla();
    double beside = field.above(2, level.full()).at(new Place(0, 6e-3, 2.8e-3)).zTesla();

    assertThat(along).isLessThan(0.5 * beside);
  }

  /**
   * A gauge reads at the stand-off what the level says, and what strings see is that of the
   * resolved magnet.
   */
  @Test
  void aLevelIsWhatTheGaugeReads() {
    LevelField level = bar(Shape.Axis.THROUGH_WIDTH);
    FluxDensity part = level.part(0.63);
    Place gauge = level.kind().shape().readAt(STAND_OFF);

    assertThat(level.at(part).at(gauge).zTesla()).isCloseTo(part.tesla(), within(1e-9));
  }

  /**
   * Turns: inductance goes by their square; and cores of little susceptibility add by it: a check
   * by the law alone. A usual single coil of 7600 turns has 2 to 4 H, common practice, no source.
   */
  @Test
  @Against(Against.Kind.COMMON_PRACTICE)
  void turnsMakeAnInductance() {
    CoilTurns coil = turns(7600, 3);

    assertThat(coil.henries()).isBetween(2.0, 4.0);
    assertThat(turns(3800, 3).henries() / coil.henries()).isCloseTo(0.25, within(1e-9));
    double little = turns(7600, 1e-3).henries() - coil.airHenries();
    double twice = turns(7600, 2e-3).henries() - coil.airHenries();
    assertThat(twice / little).isCloseTo(2, within(1e-3));
    assertThat(turns(7600, Double.POSITIVE_INFINITY).henries()).isGreaterThan(coil.henries());
    assertThatThrownBy(() -> turns(7, 3)).hasMessageContaining("turns");
  }

  private static CoilTurns turns(double turns, double susceptibility) {
    return new CoilTurns(
        turns,
        Length.ofMm(11),
        Length.ofMm(3.6),
        PITCH,
        6,
        new Shape.Rod(Length.ofMm(4.6), Length.ofMm(15.5)),
        susceptibility);
  }

  @Test
  void tellsWeakMagnetAndManyHenriesTogether() {
    assertThat(LevelHeard.together(0.95, 2)).contains("bright twice over");
    assertThat(LevelHeard.together(0.95, 7)).contains("dullness");
    assertThat(LevelHeard.together(0.5, 7)).contains("same way");
    assertThat(LevelHeard.ofSustain()).contains("longer sustain", "warmer");
  }
}
