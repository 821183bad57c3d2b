package lodestep.dial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import lodestep.config.Limits;
import lodestep.config.SupplyConfig;
import lodestep.device.ActResult;
import lodestep.device.Order;
import lodestep.device.PulseState;
import lodestep.device.SwitchedPlan;
import lodestep.port.ActEvent;
import lodestep.quantity.ElectricCurrent;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: the ladder's levels by Ohm's law, see {@link Attempt#onSupply}, and the level for a field.
 */
class SwitchedDriveTest {

  private static final SwitchedDrive DRIVE = Attempt.onSupply(32.0, 16.0, 8.0);
  private static final RigNow ROOM = Attempt.ROOM;

  private static List<Double> fields(SwitchedDrive drive, RigNow now) {
    return ((Fields.Levels) drive.fields(now))
        .rising().stream().map(FieldStrength::amperesPerMetre).toList();
  }

  private static void assertFields(List<Double> seen, double... aperM) {
    assertThat(seen).hasSize(aperM.length);
    for (int i = 0; i < aperM.length; i++) {
      assertThat(seen.get(i)).isCloseTo(aperM[i], within(0.1));
    }
  }

  @Test
  void hasTheLevelsOfItsLadderAndTheChargingRange() {
    assertFields(
        fields(DRIVE, ROOM), 6_666.7, 12_000, 16_363.6, 20_000, 23_076.9, 25_714.3, 28_000, 60_000);
    assertThat(DRIVE.name()).isEqualTo("long coil");
    assertThat(DRIVE.noun()).isEqualTo("coil");
    assertThat(DRIVE.restAbove()).contains(Temperature.ofDegC(50));
  }

  private static ActEvent.SwitchedPulseIntended pulse(boolean full) {
    return new ActEvent.SwitchedPulseIntended(
        4, 1, 1, "charge", true, full, full ? 0 : 7, 60_000, 24_000, 60_000, 3_000, "long coil");
  }

  /** Ohm's law at 20 °C: {@link #hasTheLevelsOfItsLadderAndTheChargingRange} has the figures. */
  @Test
  void tellsInTheChargingRangeAloneWhatAPulseCarriedAgainstOhmsLaw() {
    long milliAmps = Math.round(60_000 / DRIVE.coil().fieldPerAmp() * 1e3);
    ActEvent.PulseEnded ended =
        new ActEvent.PulseEnded(
            21, 4, "delivered", 9, 77, 24_000, 24_000, milliAmps, 0, 60_000, 2_000, "");

    assertThat(DRIVE.carried(pulse(true), ended).orElseThrow().ratio()).isCloseTo(1, within(1e-3));
    assertThat(DRIVE.carried(pulse(false), ended)).isEmpty();
  }

  private static SwitchedDrive limitedTo(double amps) {
    SupplyConfig free = DRIVE.supply();
    return new SwitchedDrive(
        DRIVE.coil(),
        new SupplyConfig(
            free.voltage(),
            new ElectricCurrent(amps),
            free.ladderOhms(),
            free.dischargeOhms(),
            free.onTimeNs(),
            free.longestNs()));
  }

  @Test
  void hasNoChargingRangeApartWhereTheSupplyLimitsBoth() {
    assertFields(
        fields(limitedTo(2.8), ROOM),
        6_666.7,
        12_000,
        16_363.6,
        20_000,
        23_076.9,
        25_714.3,
        28_000);
  }

  @Test
  void countsWhatTheRigHasTaughtOfEachRangeByItself() {
    RigMemory memory =
        RigMemory.none()
            .after(new ActResult.Lesson("charging", 0.9, 1))
            .after(new ActResult.Lesson("ladder", 1.1, 1));
    RigNow now = new RigNow(Temperature.ofDegC(20), memory);

    assertFields(fields(Attempt.onSupply(32.0, 16.0), now), 7_333.3, 13_200, 18_000, 54_000);
  }

  private static SwitchedPlan plan(SwitchedDrive drive, double aperM) {
    Order order = new Order(7, 3, 2, "knock down", false, new FieldStrength(aperM));
    return (SwitchedPlan) ((PulseState) drive.begin(order, 41, ROOM, Limits.standard(), 5)).plan();
  }

  @ParameterizedTest
  @CsvSource({
    "1, 1",
    "6667, 1",
    "9300, 1",
    "9400, 2",
    "16364, 3",
    "28000, 7",
    "43900, 7",
    "44100, 0",
    "90000, 0"
  })
  void takesTheLevelNearestToTheField(double aperM, int level) {
    assertThat(plan(DRIVE, aperM).level()).isEqualTo(level);
  }

  @Test
  void takesTheChargingRangeBeforeALevelThatGivesTheSame() {
    assertThat(plan(limitedTo(2.8), 30_000).level()).isZero();
    // And of two levels that give the same, the one with fewer relays.
    assertThat(plan(limitedTo(2.0), 30_000).level()).isZero();
  }

  @Test
  void beginsAPulseWithTheCurrentOfItsLevel() {
    SwitchedPlan plan = plan(DRIVE, 20_000);

    assertThat(plan.expectedPeakAmps()).isCloseTo(2, within(1e-9));
    assertThat(plan.intentNumber()).isEqualTo(41);
    assertThat(plan(DRIVE, 60_000).expectedPeakAmps()).isCloseTo(6, within(1e-9));
  }

  /** 0.2 A, four times what counts as none: 24 V / (4 + R / level) ohms. */
  @Test
  void provesTheSwitchAtTheLowestLevelThatShows() {
    assertThat(plan(DRIVE, 20_000).proofLevel()).isEqualTo(1);
    // 0.074, 0.146 and 0.217 A.
    assertThat(plan(Attempt.onSupply(320.0, 160.0, 80.0), 500).proofLevel()).isEqualTo(3);
    // 0.0187 A and less: the highest there is.
    assertThat(plan(Attempt.onSupply(3200.0, 1600.0), 500).proofLevel()).isEqualTo(3);
  }
}
