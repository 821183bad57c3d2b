package lodestep.app.remote;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lodestep.config.HeadConfig;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.magnet.Shape;
import lodestep.port.HandAsk;
import lodestep.port.HandCue;
import lodestep.port.InputLine;
import lodestep.quantity.Length;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.RelayName;
import lodestep.sim.StockPiece;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Goal: both processes mean the very same rig, magnets and moments. */
class RigOrderTest {

  @Test
  void isReadBackAsItWas() {
    RigConfig inside = ReferenceRig.virtual();
    RigConfig rig =
        new RigConfig(
            "dachboden µ",
            inside.kind(),
            new HeadConfig.SerialHead("/somewhere/head", "LINE-07"),
            inside.bank(),
            inside.coils(),
            inside.nests(),
            inside.gauge(),
            inside.limits(),
            inside.pins());
    RigOrder order = new RigOrder(rig, "rod nest", Long.MIN_VALUE, 7, pieces());

    String line = order.line();

    assertThat(line).doesNotContain("\n");
    assertThat(RigOrder.read(line)).isEqualTo(order);
    assertThat(RigOrder.read(line.replace("LINE-07", "LINE-08"))).isNotEqualTo(order);
  }

  @Test
  void isReadBackWithAHandInThePlaceOfTheOperator() {
    HandOrder hand =
        new HandOrder("rod nest", 5, pieces(), List.of(4e4, 4.25e5), 18_000, List.of(7L));
    RigOrder order = RigOrder.byHand(ReferenceRig.virtual(), hand);

    assertThat(RigOrder.read(order.line())).isEqualTo(order);
  }

  @Test
  void isReadBackWithFaults() {
    FaultPlan faults =
        FaultPlan.NONE
            .with(new Fault.HeadDown(), 5, 1L << 62)
            .with(new Fault.HeadWireBroken(InputLine.FILL_CONTACT), 6)
            .with(new Fault.CoilSensor(Fault.CoilSensor.Way.OPEN), 7)
            .with(new Fault.LinesDamaged(0.3), 8)
            .with(new Fault.RelayStuck(RelayName.HOLD, true), 9);
    RigOrder order = new RigOrder(ReferenceRig.virtual(), "rod nest", 1, 2, pieces()).with(faults);

    assertThat(RigOrder.read(order.line())).isEqualTo(order);
  }

  @Test
  void carriesACueForTheHand() {
    for (HandAsk ask : HandAsk.values()) {
      HandCue cue = new HandCue(ask, 0.125);
      assertThat(HandCues.read(HandCues.order(cue).split(" ", -1))).isEqualTo(cue);
    }
  }

  private static List<StockPiece> pieces() {
    Shape rod = new Shape.Rod(Length.ofMm(4.9), new Length(0.65 * 0.0254));
    Shape bar =
        new Shape.Bar(
            Length.ofMm(58), Length.ofMm(11.5), Length.ofMm(3.4), Shape.Axis.THROUGH_WIDTH);
    Shape ring = new Shape.Ring(Length.ofMm(16.4), Length.ofMm(6.3), Length.ofMm(9.4));
    return List.of(
        new StockPiece("alnico 3", ring, true, true, 8, 9, "ring nest", List.of()),
        new StockPiece("alnico 5", rod, true, false, 1L << 62, -3, "rod nest", List.of()),
        new StockPiece(
            "alnico 2",
            bar,
            false,
            true,
            5,
            6,
            "bar nest",
            List.of(new StockPiece.EarlierPulse(1.5e5, 0, true))));
  }

  @Test
  void refusesWhatIsNoOrder() {
    assertThatThrownBy(() -> RigOrder.read("run 5 6"))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("this is no order for a rig process");
  }

  static Stream<RigAnswer> answers() {
    return Stream.of(
        new RigAnswer.Ready(),
        new RigAnswer.Refused("no, not there; name another"),
        new RigAnswer.Due(1_018_000_000L, 93),
        new RigAnswer.Drove(0x7ff),
        new RigAnswer.Plugged(3_411),
        new RigAnswer.At(1_020_000_000L, 5, 9, 2, true),
        new RigAnswer.At(1_020_000_000L, 5, 9, 0, false));
  }

  @ParameterizedTest
  @MethodSource("answers")
  void readsEachAnswerBackAsItWas(RigAnswer answer) {
    assertThat(RigAnswer.read(answer.line())).isEqualTo(Optional.of(answer));
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "due", "due 5", "due five 6", "at 1 2 3 4", "drove", "hello 1 2"})
  void takesNothingElseForAnAnswer(String line) {
    assertThat(RigAnswer.read(line)).isEmpty();
  }
}
