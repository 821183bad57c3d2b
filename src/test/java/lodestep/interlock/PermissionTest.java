package lodestep.interlock;

import static lodestep.interlock.Condition.BANK_LOW;
import static lodestep.interlock.Condition.BANK_PROVEN;
import static lodestep.interlock.Condition.BLEED_OPEN;
import static lodestep.interlock.Condition.CURRENT_ZERO;
import static lodestep.interlock.Condition.GATE_LOW;
import static lodestep.interlock.Condition.JIG_FIT;
import static lodestep.interlock.Condition.KEY_ON;
import static lodestep.interlock.Condition.SWITCHED;
import static lodestep.port.OutputLine.BANK_FILL;
import static lodestep.port.OutputLine.BANK_HOLD;
import static lodestep.port.OutputLine.COIL_FIRE;
import static lodestep.port.OutputLine.COIL_FULL;
import static lodestep.port.OutputLine.COIL_ON;
import static lodestep.port.OutputLine.COIL_REVERSE;
import static lodestep.port.OutputLine.JIG_ENABLE;
import static lodestep.port.OutputLine.LADDER_1;
import static lodestep.port.OutputLine.LAMP_READY;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.SplittableRandom;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.protocol.HeadFlag;
import org.junit.jupiter.api.Test;

/** Each "only while" has its twin: not without. The rows themselves: see the permission table. */
class PermissionTest {

  private static final Permission EVERYTHING =
      new Permission(
          Outputs.ALL_LOW
              .with(BANK_HOLD, true)
              .and(BANK_FILL)
              .and(COIL_FIRE)
              .and(COIL_REVERSE)
              .and(COIL_FULL),
          Outputs.ALL_LOW,
          true);

  private static final Permission RELAYS_KEPT =
      new Permission(EVERYTHING.allowed(), Outputs.high(COIL_REVERSE, COIL_FULL), true);

  private static Bench aboutToFire() {
    return Bench.holding(20).scanToLine().set(HeadFlag.WINDOW, true).scanToLine();
  }

  @Test
  void allowsHoldingOnlyWhileThePermitIsSeen() {
    Bench bench = Bench.ready();

    assertThat(bench.allows(BANK_HOLD)).isTrue();
    assertThat(bench.set(HeadFlag.PERMIT, false).run(10).allows(BANK_HOLD)).isFalse();
    assertThat(bench.last.permission().permit()).isTrue();
  }

  @Test
  void allowsFillingOnlyWhileTheBleedContactIsSeenOpen() {
    Bench bench = Bench.ready();
    boolean notHeld = bench.allows(BANK_FILL);
    bench.set(InputLine.BLEED_CONTACT, true).drive(BANK_HOLD).run(20);
    boolean stillClosed = bench.allows(BANK_FILL);
    bench.free(InputLine.BLEED_CONTACT).run(10);

    assertThat(notHeld).isFalse();
    assertThat(stillClosed).isFalse();
    assertThat(bench.allows(BANK_FILL)).isTrue();
  }

  @Test
  void allowsFillingOnlyUpToTheCap() {
    assertThat(Bench.holding(50.000).allows(BANK_FILL)).isTrue();
    assertThat(Bench.holding(50.001).allows(BANK_FILL)).isFalse();
  }

  @Test
  void allowsFiringOnlyInTheWindow() {
    Bench bench = aboutToFire();

    assertThat(bench.allows(COIL_FIRE)).isTrue();
    assertThat(bench.set(HeadFlag.WINDOW, false).scanToLine().allows(COIL_FIRE)).isFalse();
  }

  @Test
  void allowsOnePulseInAWindow() {
    Bench bench = aboutToFire().drive(BANK_HOLD, COIL_FIRE).scan();
    boolean goesOn = bench.allows(COIL_FIRE);
    bench.drive(BANK_HOLD).run(20);
    boolean again = bench.allows(COIL_FIRE);
    bench.set(HeadFlag.WINDOW, false).scanToLine().set(HeadFlag.WINDOW, true).scanToLine();

    assertThat(goesOn).isTrue();
    assertThat(again).isFalse();
    assertThat(bench.allows(COIL_FIRE)).isTrue();
  }

  @Test
  void allowsFiringOnlyOnAYoungLine() {
    Bench bench = aboutToFire();
    bench.headSpeaks = false;

    assertThat(bench.run(50).allows(COIL_FIRE)).isTrue();
    assertThat(bench.run(5).allows(COIL_FIRE)).isFalse();
    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  void allowsFiringOnlyWhileHostAndHeadSeeTheSame() {
    Bench bench = aboutToFire().set(HeadFlag.REVERSE_CONTACT, true).scanToLine();

    assertThat(bench.allows(COIL_FIRE)).isFalse();
    assertThat(bench.allows(BANK_HOLD)).isTrue();
    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  void allowsFiringOnlyWhenTheFillRelayHasBeenOpenLongEnough() {
    Bench bench = Bench.ready().set(HeadFlag.WINDOW, true);
    bench.drive(BANK_HOLD, BANK_FILL).run(200).drive(BANK_HOLD).scan();

    assertThat(bench.run(15).allows(COIL_FIRE)).isFalse();
    assertThat(bench.run(5).allows(COIL_FIRE)).isTrue();
  }

  @Test
  void allowsFiringOnlyWhenTheCoilsRelaysHaveBeenAtRestLongEnough() {
    Bench bench = Bench.ready().drive(BANK_HOLD).run(200).set(HeadFlag.WINDOW, true);
    bench.drive(BANK_HOLD, COIL_REVERSE).scan();

    assertThat(bench.run(45).allows(COIL_FIRE)).isFalse();
    assertThat(bench.run(5).allows(COIL_FIRE)).isTrue();
  }

  @Test
  void letsAPulseBeginOnlyWithACoilAtRest() {
    Bench bench = aboutToFire().drive(BANK_HOLD, COIL_FIRE).scan();
    bench.coilMilliAmps = 60_000;
    boolean goesOn = bench.scanToLine().allows(COIL_FIRE);

    Bench other = aboutToFire();
    other.coilMilliAmps = 60_000;
    boolean begins = other.scanToLine().allows(COIL_FIRE);

    assertThat(goesOn).isTrue();
    assertThat(begins).isFalse();
  }

  @Test
  void keepsTheCoilsRelaysWhileTheBankIsAboveLowAndLetsThemGoBelow() {
    Bench bench = Bench.ready().fill(20, COIL_REVERSE).run(100);
    Permission filled = bench.last.permission();
    bench.drive(COIL_REVERSE).run(2_000);
    Permission bled = bench.last.permission();

    assertThat(filled.kept()).isEqualTo(Permission.COIL_RELAYS);
    assertThat(bled.kept()).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void keepsTheCoilsRelaysWhileTheCoilCarriesCurrent() {
    Bench bench = Bench.ready();
    bench.coilMilliAmps = 51;

    assertThat(bench.scanToLine().last.permission().kept().isHigh(COIL_FULL)).isTrue();
  }

  @Test
  void keepsTheCoilsRelaysThroughATripUntilTheyMayMove() {
    Bench bench = Bench.ready().fill(20, COIL_REVERSE).run(100);
    bench.stopAsked = true;
    bench.scan();
    Outputs atTrip = bench.last.permission().lower(bench.driven, bench.driven);
    bench.driven = atTrip;
    bench.run(2_000);
    Outputs later = bench.last.permission().lower(bench.driven, bench.driven);

    assertThat(atTrip).isEqualTo(Outputs.high(COIL_REVERSE));
    assertThat(later).isEqualTo(Outputs.ALL_LOW);
  }

  @Test
  void neverAllowsTheJig() {
    assertThat(aboutToFire().allows(JIG_ENABLE)).isFalse();
  }

  @Test
  void lowersFillingAndFiringWithTheHold() {
    Outputs wanted = Outputs.high(BANK_FILL);

    assertThat(EVERYTHING.lower(wanted, Outputs.ALL_LOW)).isEqualTo(Outputs.ALL_LOW);
    assertThat(EVERYTHING.lower(Outputs.high(COIL_FIRE), Outputs.ALL_LOW))
        .isEqualTo(Outputs.ALL_LOW);
    assertThat(EVERYTHING.lower(wanted.and(BANK_HOLD), Outputs.ALL_LOW))
        .isEqualTo(wanted.and(BANK_HOLD));
  }

  @Test
  void givesNeitherToWhoAsksForFillingAndFiring() {
    Outputs wanted = Outputs.high(BANK_HOLD, BANK_FILL, COIL_FIRE);

    assertThat(EVERYTHING.lower(wanted, Outputs.ALL_LOW)).isEqualTo(Outputs.high(BANK_HOLD));
  }

  @Test
  void doesNotFireInTheScanThatMovesARelay() {
    Outputs wanted = Outputs.high(BANK_HOLD, COIL_FIRE, COIL_REVERSE);

    assertThat(EVERYTHING.lower(wanted, Outputs.high(BANK_HOLD)).isHigh(COIL_FIRE)).isFalse();
    assertThat(EVERYTHING.lower(wanted, Outputs.high(BANK_HOLD, COIL_REVERSE))).isEqualTo(wanted);
  }

  @Test
  void holdsKeptLinesHighAndLow() {
    Outputs driven = Outputs.high(BANK_HOLD, COIL_REVERSE);
    Outputs wanted = Outputs.high(BANK_HOLD, COIL_FULL);

    assertThat(RELAYS_KEPT.lower(wanted, driven)).isEqualTo(driven);
  }

  @Test
  void neverRaisesALineThatIsNotWantedNorAllowedWhateverTheRowAndTheLevels() {
    SplittableRandom random = new SplittableRandom(20_261);
    int all = (1 << OutputLine.values().length) - 1;
    for (int i = 0; i < 200_000; i++) {
      Permission permission = Permissive.of(new PermissionRow(random.nextInt(PermissionRow.COUNT)));
      Outputs wanted = new Outputs(random.nextInt(all + 1));
      Outputs driven = new Outputs(random.nextInt(all + 1));

      Outputs lowered = permission.lower(wanted, driven);

      int kept = permission.kept().highBits();
      int may =
          (wanted.highBits() & permission.allowed().highBits() & ~kept)
              | (driven.highBits() & kept);
      assertThat(lowered.highBits() & ~may).as("%s of %s", permission, wanted).isZero();
      assertThat((lowered.highBits() ^ driven.highBits()) & kept).isZero();
      assertThat(lowered.isHigh(BANK_FILL) && lowered.isHigh(COIL_FIRE)).isFalse();
    }
  }

  @Test
  void saysWhichConditionsStandInTheWay() {
    Bench bench = Bench.ready().set(HeadFlag.PERMIT, false).run(10);

    assertThat(Permissive.unmet(bench.state.row(), BANK_HOLD))
        .containsExactly(Condition.PERMIT_HELD);
    assertThat(Permissive.unmet(bench.state.row(), COIL_REVERSE)).isEmpty();
  }

  @Test
  void movesNoJigWithTheBankHeld() {
    Permission all =
        new Permission(
            Outputs.high(JIG_ENABLE, BANK_HOLD, BANK_FILL, COIL_FIRE, LAMP_READY),
            Outputs.ALL_LOW,
            true);

    Outputs filling = Outputs.high(JIG_ENABLE, BANK_HOLD, BANK_FILL, LAMP_READY);
    assertThat(all.lower(filling, Outputs.ALL_LOW)).isEqualTo(Outputs.high(LAMP_READY));
    Outputs firing = Outputs.high(JIG_ENABLE, BANK_HOLD, COIL_FIRE, LAMP_READY);
    assertThat(all.lower(firing, Outputs.ALL_LOW)).isEqualTo(Outputs.high(LAMP_READY));
    Outputs alone = Outputs.high(JIG_ENABLE, LAMP_READY);
    assertThat(all.lower(alone, Outputs.ALL_LOW)).isEqualTo(alone);
    Outputs held = Outputs.high(BANK_HOLD, BANK_FILL, LAMP_READY);
    assertThat(all.lower(held, Outputs.ALL_LOW)).isEqualTo(held);
  }

  private static final PermissionRow ALL_MET = new PermissionRow(PermissionRow.COUNT - 1);

  private static PermissionRow without(Condition... conditions) {
    PermissionRow row = ALL_MET;
    for (Condition condition : conditions) {
      row = row.with(condition, false);
    }
    return row;
  }

  @Test
  void hasARowForEachSetOfConditionsAndNoOther() {
    assertThat(new PermissionRow(0)).isEqualTo(PermissionRow.NOTHING_MET);
    assertThatThrownBy(() -> new PermissionRow(-1)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> new PermissionRow(PermissionRow.COUNT))
        .isInstanceOf(IllegalArgumentException.class);
    for (Condition condition : Condition.values()) {
      PermissionRow one = PermissionRow.NOTHING_MET.with(condition, true);
      assertThat(one.unmet(-1)).hasSize(Condition.values().length - 1).doesNotContain(condition);
      assertThat(one.with(condition, true)).isEqualTo(one);
      assertThat(one.with(condition, false)).isEqualTo(PermissionRow.NOTHING_MET);
      assertThat(without(condition).unmet(-1)).containsExactly(condition);
    }
  }

  /**
   * Of a bank at rest and of one with a pulse in it: what else must be met depends on the state.
   */
  @Test
  void saysWhatStandsInTheWayOfEachLine() {
    assertThat(Permissive.unmet(without(BANK_PROVEN), BANK_FILL)).isEmpty();
    assertThat(Permissive.unmet(without(BANK_PROVEN, BANK_LOW), BANK_FILL))
        .containsExactly(BANK_PROVEN);
    assertThat(Permissive.unmet(without(GATE_LOW), COIL_ON)).isEmpty();
    assertThat(Permissive.unmet(without(GATE_LOW, BLEED_OPEN), COIL_ON)).containsExactly(GATE_LOW);
    assertThat(Permissive.unmet(without(CURRENT_ZERO), COIL_FIRE)).containsExactly(CURRENT_ZERO);
    assertThat(Permissive.unmet(without(CURRENT_ZERO, GATE_LOW), COIL_FIRE)).isEmpty();
    assertThat(Permissive.unmet(without(SWITCHED), LADDER_1)).containsExactly(SWITCHED);
    assertThat(Permissive.unmet(without(KEY_ON), LADDER_1)).containsExactly(KEY_ON);
    assertThat(Permissive.unmet(without(JIG_FIT), JIG_ENABLE)).containsExactly(JIG_FIT);
    assertThat(Permissive.unmet(PermissionRow.NOTHING_MET, LAMP_READY)).isEmpty();
  }

  @Test
  void firesIntoACoilAtRestOrGoesOnWithAPulse() {
    assertThat(Permissive.of(ALL_MET).allowed().isHigh(COIL_FIRE)).isTrue();
    assertThat(Permissive.of(without(CURRENT_ZERO)).allowed().isHigh(COIL_FIRE)).isFalse();
    assertThat(Permissive.of(without(CURRENT_ZERO, GATE_LOW)).allowed().isHigh(COIL_FIRE)).isTrue();
    assertThat(Permissive.of(without(GATE_LOW)).allowed().isHigh(COIL_FIRE)).isTrue();
  }
}
