package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.stream.Stream;
import lodestep.magnet.Shape;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Goal: a shape is read out of the record as it was written into it. What the record holds is as
 * {@link MagnetNamed} lays it down: the words of the plan, and the sizes in micrometres.
 */
class RecordedShapeTest {

  private static MagnetNamed named(String shape, Long... sizesMicroMetres) {
    return new MagnetNamed(
        4,
        "N3",
        1,
        3,
        "north wall",
        "lot 9",
        "alnico 5",
        shape,
        List.of(sizesMicroMetres),
        "tried nest",
        "north",
        "level",
        43_000,
        0,
        0,
        1_000,
        0,
        0);
  }

  private static Stream<Arguments> shapes() {
    Length six = Length.ofMm(6.1);
    Length nine = Length.ofMm(9.2);
    Length two = Length.ofMm(2.3);
    return Stream.of(
        Arguments.of("rod", List.of(6_100L, 9_200L), new Shape.Rod(six, nine)),
        Arguments.of("ring", List.of(9_200L, 6_100L, 2_300L), new Shape.Ring(nine, six, two)),
        Arguments.of(
            "bar through its width",
            List.of(9_200L, 6_100L, 2_300L),
            new Shape.Bar(nine, six, two, Shape.Axis.THROUGH_WIDTH)),
        Arguments.of(
            "bar through its thickness",
            List.of(9_200L, 6_100L, 2_300L),
            new Shape.Bar(nine, six, two, Shape.Axis.THROUGH_THICKNESS)),
        Arguments.of(
            "bar along its length",
            List.of(9_200L, 6_100L, 2_300L),
            new Shape.Bar(nine, six, two, Shape.Axis.ALONG_LENGTH)));
  }

  @ParameterizedTest
  @MethodSource("shapes")
  void writesEachShapeAsTheRecordLaysItDownAndReadsItBack(
      String words, List<Long> sizesMicroMetres, Shape shape) {
    MagnetNamed named = named(words, sizesMicroMetres.toArray(Long[]::new));

    assertThat(RecordedShape.words(shape)).isEqualTo(words);
    assertThat(RecordedShape.sizesMicroMetres(shape)).isEqualTo(sizesMicroMetres);
    assertThat(RecordedShape.find(named)).contains(shape);
    assertThat(RecordedShape.of(named)).isEqualTo(shape);
  }

  /** One size more or less than a shape has is another shape of a later program. */
  @Test
  void knowsNoShapeOfAnotherNameOrOfMoreOrFewerSizes() {
    assertThat(RecordedShape.find(named("rod", 6_100L))).isEmpty();
    assertThat(RecordedShape.find(named("rod", 6_100L, 9_200L, 2_300L))).isEmpty();
    assertThat(RecordedShape.find(named("ring", 9_200L, 6_100L))).isEmpty();
    assertThat(RecordedShape.find(named("bar along its length", 9_200L, 6_100L))).isEmpty();
    assertThat(RecordedShape.find(named("bar", 9_200L, 6_100L, 2_300L))).isEmpty();
    assertThat(RecordedShape.find(named("ball", 6_100L, 9_200L))).isEmpty();
  }

  @Test
  void saysWhichMagnetsShapeIsNotKnown() {
    assertThatThrownBy(() -> RecordedShape.of(named("ball", 6_100L)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("N3 is a ball, which this program does not know; a later one wrote it");
  }
}
