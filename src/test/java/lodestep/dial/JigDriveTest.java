package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import lodestep.config.Limits;
import lodestep.device.Order;
import lodestep.device.StrokeState;
import lodestep.port.ActEvent;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: place for field and back, with a field that doubles every 8 mm from 1,000 A/m at home. */
class JigDriveTest {

  private static final JigDrive JIG = Attempt.onJig(false, 9);

  private static RigNow with(RigMemory memory) {
    return new RigNow(Temperature.ofDegC(20), memory);
  }

  private static Fields.Continuous fields(JigDrive jig, RigMemory memory) {
    return (Fields.Continuous) jig.fields(with(memory));
  }

  @Test
  void reachesFromHomeToTheLowestPlace() {
    Fields.Continuous fields = fields(JIG, RigMemory.none());

    assertThat(fields.least().amperesPerMetre()).isCloseTo(1_000, within(1e-6));
    // 73 mm are 292 quarters of a millimetre.
    assertThat(fields.most().amperesPerMetre())
        .isCloseTo(1_000 * Math.pow(2, 292 / 32.0), within(1e-6));
  }

  @Test
  void asksForNoFieldThatMovesNothing() {
    RigMemory weak =
        RigMemory.none().with(new GapCurve(0.4, 0, new FluxDensity(0), Optional.empty()));
    assertThat(fields(JIG, weak).least().amperesPerMetre()).isEqualTo(500);

    JigDrive dead =
        new JigDrive(JIG.jig(), Length.ofMm(16), Collections.nCopies(JIG.told().size(), 1.0));
    assertThat(fields(dead, RigMemory.none()).most().amperesPerMetre()).isEqualTo(500);
  }

  private static ActEvent.StrokeIntended stroke(RigMemory memory, double aperM) {
    Order order = new Order(7, 3, 2, "knock down", false, new FieldStrength(aperM));
    return (ActEvent.StrokeIntended)
        JIG.begin(order, 41, with(memory), Limits.standard(), 5).intent();
  }

  /** Doubled three times after 24 mm; half a place more is that of the root of its growth. */
  @ParameterizedTest
  @CsvSource({"8000, 24000", "8087.1, 24125", "4000, 16000", "512000, 72000"})
  void goesWhereTheFieldIs(double aperM, double microMetres) {
    ActEvent.StrokeIntended stroke = stroke(RigMemory.none(), aperM);

    assertThat((double) stroke.positionMicroMetres()).isCloseTo(microMetres, within(1.0));
    assertThat((double) stroke.gapMicroMetres()).isCloseTo(76_000 - microMetres, within(1.0));
  }

  @ParameterizedTest
  @CsvSource({
    "1, 2000",
    "1000, 2000",
    "1180, 2000",
    "1200, 2104",
    "560000, 73000",
    "900000, 73000"
  })
  void staysBetweenTheParkPositionAndTheLowestPlace(double aperM, double microMetres) {
    assertThat((double) stroke(RigMemory.none(), aperM).positionMicroMetres())
        .isCloseTo(microMetres, within(1.0));
  }

  @Test
  void goesLessFarWhereMoreActsThanIsReckoned() {
    RigMemory doubled =
        RigMemory.none().with(new GapCurve(2, 0, new FluxDensity(0), Optional.empty()));
    RigMemory higher =
        RigMemory.none().with(new GapCurve(1, 1e-3, new FluxDensity(0), Optional.empty()));

    assertThat((double) stroke(doubled, 8_000).positionMicroMetres())
        .isCloseTo(16_000, within(1.0));
    assertThat((double) stroke(higher, 8_000).positionMicroMetres()).isCloseTo(25_000, within(1.0));
  }

  @Test
  void beginsAStrokeThatWaitsForItsIntent() {
    Order order = new Order(7, 3, 2, "knock down", false, new FieldStrength(8_000));
    StrokeState.AwaitIntent begun =
        (StrokeState.AwaitIntent)
            JIG.begin(order, 41, with(RigMemory.none()), Limits.standard(), 5);

    assertThat(begun.sinceNs()).isEqualTo(5);
    assertThat(begun.plan().intentNumber()).isEqualTo(41);
    assertThat(begun.plan().fieldsAperM()).hasSize(294);
  }

  @Test
  void drivesOneWayOnly() {
    assertThat(JIG.cannotDrive(false)).isEmpty();
    assertThat(JIG.cannotDrive(true).orElseThrow()).contains("knocks down north faces only");
    assertThat(Attempt.onJig(true, 9).cannotDrive(true)).isEmpty();
    assertThat(Attempt.onJig(true, 9).cannotDrive(false).orElseThrow())
        .contains("knocks down south faces only");
    assertThat(JIG.name()).isEqualTo("jig");
    assertThat(JIG.noun()).isEqualTo("jig");
    assertThat(JIG.actsMax()).isEqualTo(9);
  }

  @Test
  void showsTheFieldOfAStrokeOnItsOwnSide() {
    FieldStrength field = new FieldStrength(8_000);
    FieldStrength none = new FieldStrength(0);

    assertThat(JIG.swing(new ActEvent.StrokeEnded(1, 7, "delivered", 0, 0, 8_000, true, 9, "")))
        .contains(new FieldSource.Swing(field, none));
    assertThat(JIG.swing(new ActEvent.StrokeEnded(1, 7, "delivered", 0, 0, 8_000, false, 9, "")))
        .contains(new FieldSource.Swing(none, field));
    assertThat(JIG.swing(new ActEvent.PulseEnded(1, 7, "delivered", 1, 9, 0, 0, 1, 1, 0, 0, "")))
        .isEmpty();
  }

  @Test
  void hasTheFieldsThatRigTomlTellsOf() {
    JigDrive over = JigDrive.over(JIG.jig(), Length.ofMm(16));

    assertThat(over.told()).isEqualTo(GapCurve.told(JIG.jig(), Length.ofMm(16)));
    assertThat(over.workHeight()).isEqualTo(Length.ofMm(16));
  }

  /** Here the field doubles every 8 mm as far as 32 mm from home, and from there every 4 mm. */
  @ParameterizedTest
  @CsvSource({"8000, 24000", "16000, 32000", "64000, 40000", "90510, 42000"})
  void followsACurveThatGrowsSteeper(double aperM, double microMetres) {
    List<Double> told =
        IntStream.range(-12, 306)
            .mapToObj(place -> 1000 * Math.pow(2, (place + Math.max(0, place - 128)) / 32.0))
            .toList();
    JigDrive steeper = new JigDrive(JIG.jig(), Length.ofMm(16), told);
    Order order = new Order(7, 3, 2, "knock down", false, new FieldStrength(aperM));
    ActEvent.StrokeIntended stroke =
        (ActEvent.StrokeIntended)
            steeper.begin(order, 41, with(RigMemory.none()), Limits.standard(), 5).intent();

    assertThat((double) stroke.positionMicroMetres()).isCloseTo(microMetres, within(1.0));
  }
}
