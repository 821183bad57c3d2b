package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.nio.charset.StandardCharsets;
import java.util.List;
import lodestep.config.RigConfig;
import lodestep.config.ShippedRig;
import lodestep.magnet.PickupCoil;
import lodestep.port.StockEvent;
import lodestep.quantity.Length;
import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: no pulse breaks through the winding of a finished pickup, and a winder is told another way.
 */
class WoundPickupTest {

  private static final String HEADINGS = "name,alloy,shape,size,pole up,target,tolerance,winding\n";
  private static final String ROW = "perch,alnico 5,rod,4.9 x 16.5 mm,north,560 G,9 G,";
  private static final RigConfig COIL = ShippedRig.read("rig-virtual.toml");

  private static PlanReading read(RigConfig rig, String winding) {
    String text = HEADINGS + ROW + winding + "\n";
    return new PlanReader(PlanRules.of(rig, BenchRigs::tightest))
        .read("test", text.getBytes(StandardCharsets.UTF_8));
  }

  private static Plan plan(RigConfig rig, String winding) {
    return read(rig, winding)
        .match(
            plan -> plan,
            refused -> {
              throw new AssertionError(refused.written());
            });
  }

  private static List<String> refused(RigConfig rig, String winding) {
    return read(rig, winding).match(plan -> List.of(), refused -> refused.written());
  }

  @Test
  void aMagnetIsByItselfIfNothingIsSaid() {
    assertThat(plan(COIL, "").rows().get(0).winding()).isEmpty();
  }

  @Test
  void readsItsPartsInAnyOrder() {
    assertThat(WoundPickup.read("5200 turns"))
        .isEqualTo(new WoundPickup(5200, Length.ofMm(4), false, PickupCoil.USUAL_LIMIT));
    assertThat(WoundPickup.read(" Up to 60 V; 3 mm deep, SHORTED; 800 turns"))
        .isEqualTo(new WoundPickup(800, Length.ofMm(3), true, new Voltage(60)));
    assertThat(WoundPickup.read("1 turn, open").turns()).isEqualTo(1);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "5200",
        "open",
        "0 turns",
        "30001 turns",
        "900 turns; 12 turns",
        "900 turns; open; shorted",
        "900 turns; -1 mm deep",
        "900 turns; 41 mm deep",
        "900 turns; up to 301 V",
        "900 turns; up to 0 V",
        "900 turns;"
      })
  void saysHowToWriteWhatItCannotRead(String text) {
    assertThatThrownBy(() -> WoundPickup.read(text))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("write for example '5200 turns'");
  }

  @ParameterizedTest
  @CsvSource({"rig-virtual.toml", "rig-virtual-switched.toml", "rig-virtual-coil-and-jig.toml"})
  void isRefusedOnAPulseCoilAndOfferedJawsOrJig(String rig) {
    assertThat(refused(ShippedRig.read(rig), "5200 turns; open"))
        .singleElement()
        .asString()
        .contains("column 8 (winding)", "between jaws", "jig or by hand", "100 V");
  }

  @Test
  void isNoSaferForJoinedEndsThatNobodyProves() {
    assertThat(refused(COIL, "5200 turns; shorted"))
        .singleElement()
        .asString()
        .contains("joined ends are not counted on");
  }

  @Test
  void isTakenWhereJawsChargeAndAJigKnocksDown() {
    Plan plan = plan(ShippedRig.read("rig-virtual-jig.toml"), "5200 turns; open");

    assertThat(plan.rows().get(0).winding()).isPresent();
  }

  /** What was wound about a magnet stands on record beside its name, and reads back the same. */
  @Test
  void standsOnRecordOfItsMagnet() {
    PlanRow row =
        plan(ShippedRig.read("rig-virtual-jig.toml"), "5200 turns; up to 60 V").rows().get(0);

    assertThat(Entry.besides(row, 12))
        .containsExactly(new StockEvent.MagnetWound(12, 5200, 4000, false, 60_000));
    assertThat(WoundPickup.of((StockEvent.MagnetWound) Entry.besides(row, 12).get(0)))
        .isEqualTo(row.winding().orElseThrow());
    assertThat(Entry.besides(plan(COIL, "").rows().get(0), 12)).isEmpty();
  }

  @Test
  void aFewTurnsMayBePulsedAndAShortIsDoubted() {
    assertThat(PlanDoubts.of(plan(COIL, "20 turns; open"), COIL)).isEmpty();
    assertThat(PlanDoubts.of(plan(COIL, "20 turns; shorted"), COIL))
        .singleElement()
        .asString()
        .contains("line 2, perch: its shorted winding keeps up to", "open its ends");
  }

  /** Faraday's law alone, without the magnet, is the least there can be: N A µ0 (H/I) V/L. */
  @Test
  void theVoltageIsAtLeastFaradaysAndGrowsWithTheTurns() {
    PickupCoil.Induced many = induced("6000 turns");
    PickupCoil.Induced half = induced("3000 turns");

    double inner = 2.45e-3 + 0.5e-3;
    double outer = inner + 4e-3;
    double area = Math.PI / 3 * (inner * inner + inner * outer + outer * outer);
    double steepness = COIL.bank().voltageMax().volts() / 0.22e-3;
    double least = 6000 * area * 4e-7 * Math.PI * 7000 * steepness;
    assertThat(many.openVolts()).isGreaterThan(least).isLessThan(4 * least);
    assertThat(half.openVolts()).isCloseTo(0.5 * many.openVolts(), within(1e-6 * least));
  }

  private static PickupCoil.Induced induced(String winding) {
    PlanRow row = plan(COIL, "").rows().get(0);
    return WoundPickup.read(winding).inducedBy(COIL, row.magnet(), row.nest().coil()).orElseThrow();
  }
}
