package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.TripCause;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What the head tells: chain, silence, restart, permit, contacts, gauge. */
class HeadInterlocksTest {

  @Test
  @Provokes(TripCause.HEAD_SILENT)
  void tripsWhenTheNewestLineIsOlderThanTheLimit() {
    Bench bench = Bench.ready().scanToLine();
    bench.headSpeaks = false;

    assertThat(bench.run(155).tripped()).contains(TripCause.HEAD_SILENT);
  }

  @Test
  @Spares(TripCause.HEAD_SILENT)
  void sparesALineExactlyAsOldAsTheLimit() {
    Bench bench = Bench.ready().scanToLine();
    bench.headSpeaks = false;

    assertThat(bench.run(150).tripped()).isEmpty();
  }

  @Test
  @Spares(TripCause.HEAD_SILENT)
  void allowsNothingBeforeTheFirstLineAndDoesNotTripForThat() {
    Bench bench = new Bench();
    bench.headSpeaks = false;
    bench.linkOpen = false;

    assertThat(bench.run(60_000).tripped()).isEmpty();
    assertThat(bench.last.permission().permit()).isFalse();
  }

  @Test
  @Provokes(TripCause.HEAD_SILENT)
  void tripsAtOnceWhenTheLinkIsLost() {
    Bench bench = Bench.ready();
    bench.linkOpen = false;

    assertThat(bench.scan().tripped()).contains(TripCause.HEAD_SILENT);
    assertThat(bench.firstTrip.orElseThrow().detail()).contains("the cable is out");
  }

  @Test
  @Provokes(TripCause.HEAD_RESTARTED)
  void tripsWhenTheHeadComesBackWithAnotherBoot() {
    Bench bench = Bench.ready();
    bench.bootId++;

    assertThat(bench.run(10).tripped()).contains(TripCause.HEAD_RESTARTED);
  }

  /** The line in which it came is past: nothing keeps the key from clearing the trip. */
  @Test
  void holdsNoRestartAgainstAHeadInTheScanAfterIt() {
    Bench bench = Bench.ready().scanToLine();
    bench.bootId++;
    bench.scanToLine();

    assertThat(bench.state.present(TripCause.HEAD_RESTARTED)).isTrue();
    assertThat(bench.scan().state.present(TripCause.HEAD_RESTARTED)).isFalse();
  }

  /** As for a restart. */
  @Test
  void holdsNoLatchAgainstAHeadInTheScanAfterIt() {
    Bench bench = Bench.ready().scanToLine().set(HeadFlag.LATCHED, true);
    bench.set(HeadFlag.PERMIT, false).scanToLine();

    assertThat(bench.state.present(TripCause.PERMIT_LOST)).isTrue();
    assertThat(bench.scan().state.present(TripCause.PERMIT_LOST)).isFalse();
  }

  @Test
  @Provokes(TripCause.HEAD_RESTARTED)
  void tripsOnTheGreetingOfANewBootBeforeItsFirstStatus() {
    Bench bench = Bench.ready().scanToLine();
    bench.send(new HeadFrame.Hello(18, "H-7", HeadFrame.PROTOCOL_VERSION, "0.1", true));

    assertThat(bench.scan().tripped()).contains(TripCause.HEAD_RESTARTED);
  }

  @Test
  @Spares(TripCause.HEAD_RESTARTED)
  void sparesTheGreetingOfTheSameBoot() {
    Bench bench = Bench.ready().scanToLine();
    bench.send(new HeadFrame.Hello(17, "H-7", HeadFrame.PROTOCOL_VERSION, "0.1", true));

    assertThat(bench.run(100).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.PERMIT_LOST)
  void tripsWhenThePermitGoesWhileTheBankIsHeld() {
    Bench bench = Bench.holding(1).set(HeadFlag.PERMIT, false);

    assertThat(bench.run(10).tripped()).contains(TripCause.PERMIT_LOST);
  }

  @Test
  @Provokes(TripCause.PERMIT_LOST)
  void tripsWhenTheHeadHasLatchedItselfOffEvenWithNothingDrivenAnyMore() {
    Bench bench = Bench.ready().scanToLine().set(HeadFlag.LATCHED, true);

    assertThat(bench.run(10).tripped()).contains(TripCause.PERMIT_LOST);
  }

  @Test
  @Spares(TripCause.PERMIT_LOST)
  void sparesAHeadThatWasLatchedWhenItWasFirstHeard() {
    Bench bench = new Bench().set(HeadFlag.LATCHED, true).run(1_000);

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Spares(TripCause.PERMIT_LOST)
  void sparesAPermitThatGoesWithNothingDriven() {
    Bench bench = Bench.ready().set(HeadFlag.PERMIT, false).run(1_000);

    assertThat(bench.tripped()).isEmpty();
    assertThat(bench.allows(OutputLine.BANK_HOLD)).isFalse();
  }

  @Test
  @Provokes(TripCause.CHAIN_OPEN)
  void tripsAtOnceWhenTheChainOpensWhileTheBankIsHeld() {
    Bench bench = Bench.holding(1).set(HeadFlag.CHAIN, false);

    assertThat(bench.run(10).tripped()).contains(TripCause.CHAIN_OPEN);
  }

  @Test
  @Provokes(TripCause.CHAIN_OPEN)
  void tripsWhileLoadingWhenNothingExplainsTheOpenChainForMoreThanTheLimit() {
    Bench bench = Bench.ready().scanToLine().set(HeadFlag.CHAIN, false).run(70);

    assertThat(bench.tripped()).contains(TripCause.CHAIN_OPEN);
  }

  @Test
  @Spares(TripCause.CHAIN_OPEN)
  void sparesWhileLoadingAChainOpenForNoMoreThanTheLimit() {
    Bench bench = Bench.ready().scanToLine().set(HeadFlag.CHAIN, false).run(60);
    bench.free(HeadFlag.CHAIN).run(500);

    assertThat(bench.tripped()).isEmpty();
  }

  @ParameterizedTest
  @EnumSource(
      value = InputLine.class,
      names = {
        "LID_A",
        "LID_B",
        "STOP_LOOP",
        "FILL_CONTACT",
        "BLEED_CONTACT",
        "REVERSE_CONTACT",
        "FULL_CONTACT"
      })
  @Provokes(TripCause.CONTACTS_DISAGREE)
  void tripsWhenTheHeadSeesAContactDifferentlyForMoreThanTheLimit(InputLine line) {
    HeadFlag flag = HeadFlag.valueOf(line.name());
    boolean truth = line != InputLine.REVERSE_CONTACT && line != InputLine.FULL_CONTACT;
    Bench bench = Bench.ready().scanToLine().set(flag, !truth).run(70);

    assertThat(bench.tripped()).contains(TripCause.CONTACTS_DISAGREE);
    String name = line.name().toLowerCase(java.util.Locale.ROOT).replace('_', ' ');
    assertThat(bench.firstTrip.orElseThrow().detail()).contains(name);
  }

  @Test
  @Spares(TripCause.CONTACTS_DISAGREE)
  void sparesAHeadThatSeesAContactDifferentlyForNoMoreThanTheLimit() {
    Bench bench = Bench.ready().scanToLine().set(HeadFlag.LID_A, false).run(60);
    bench.free(HeadFlag.LID_A).run(500);

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Spares(TripCause.CONTACTS_DISAGREE)
  void sparesContactsThatDifferOneAfterAnotherWithEachInItsTime() {
    Bench bench = Bench.ready().scanToLine();
    bench.set(HeadFlag.LID_A, false).run(40);
    bench.set(HeadFlag.LID_B, false).run(10);
    bench.free(HeadFlag.LID_A).run(40);
    bench.free(HeadFlag.LID_B).run(500);

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.GAUGE_FROZEN)
  void tripsWhenTheSampleCounterStandsForTheLimit() {
    Bench bench = Bench.ready().scanToLine();
    bench.sampleStep = 0;
    bench.run(10L * (SensorWatch.GAUGE_REPEATS + 1));

    assertThat(bench.tripped()).contains(TripCause.GAUGE_FROZEN);
  }

  @Test
  @Spares(TripCause.GAUGE_FROZEN)
  void sparesASampleCounterThatStandsForLessThanTheLimit() {
    Bench bench = Bench.ready().scanToLine();
    bench.sampleStep = 0;
    bench.run(10L * SensorWatch.GAUGE_REPEATS);
    bench.sampleStep = 3;

    assertThat(bench.run(500).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.HEAD_NOT_FIT)
  void tripsOnAHeadThatRigTomlDoesNotName() {
    Bench bench = new Bench("H-8").run(20);

    assertThat(bench.tripped()).contains(TripCause.HEAD_NOT_FIT);
    assertThat(bench.firstTrip.orElseThrow().detail())
        .isEqualTo("it is H-7 and rig.toml names H-8");
  }

  @Test
  @Spares(TripCause.HEAD_NOT_FIT)
  void sparesTheHeadThatRigTomlNames() {
    Bench bench = new Bench("H-7").run(5_000);

    assertThat(bench.tripped()).isEmpty();
    assertThat(bench.state.row().met(Condition.HEAD_KNOWN)).isTrue();
  }

  @ParameterizedTest
  @ValueSource(ints = {HeadFrame.PROTOCOL_VERSION - 1, HeadFrame.PROTOCOL_VERSION + 1})
  @Provokes(TripCause.HEAD_NOT_FIT)
  void tripsOnAHeadOfAnotherProtocol(int version) {
    Bench bench = new Bench();
    bench.protocolVersion = version;
    bench.run(20);

    assertThat(bench.tripped()).contains(TripCause.HEAD_NOT_FIT);
    assertThat(bench.firstTrip.orElseThrow().detail()).contains("version " + version);
  }

  @Test
  @Provokes(TripCause.HEAD_NOT_FIT)
  void tripsOnAHeadWhoseWatchdogIsNotProven() {
    Bench bench = new Bench();
    bench.watchdogProven = false;
    bench.run(20);

    assertThat(bench.tripped()).contains(TripCause.HEAD_NOT_FIT);
    assertThat(bench.firstTrip.orElseThrow().detail()).contains("watchdog");
  }

  @Test
  @Provokes(TripCause.HEAD_NOT_FIT)
  void tripsOnAHeadThatDoesNotSayWhoItIsForLongerThanTheLimit() {
    Bench bench = new Bench();
    bench.saysHello = false;
    bench.scanToLine().run(IdentityWatch.HELLO_WAIT_NS / Bench.MS + 5);

    assertThat(bench.tripped()).contains(TripCause.HEAD_NOT_FIT);
    assertThat(bench.firstTrip.orElseThrow().detail()).contains("does not say who it is");
  }

  @Test
  @Spares(TripCause.HEAD_NOT_FIT)
  void permitsNothingAndDoesNotTripWhileTheHeadMayYetSayWhoItIs() {
    Bench bench = new Bench();
    bench.saysHello = false;
    bench.scanToLine().run(IdentityWatch.HELLO_WAIT_NS / Bench.MS);

    assertThat(bench.tripped()).isEmpty();
    assertThat(bench.state.row().met(Condition.HEAD_KNOWN)).isFalse();
    assertThat(bench.state.headHasSaidWho()).isFalse();
  }

  @Test
  void permitsNothingMoreInANewRunOfTheHeadUntilItSaysWhoItIs() {
    Bench bench = Bench.ready();
    assertThat(bench.last.permission().permit()).isTrue();
    bench.saysHello = false;
    bench.bootId++;
    bench.scanToLine();

    assertThat(bench.state.row().met(Condition.HEAD_KNOWN)).isFalse();
    bench.send(bench.hello()).send(Builds.inRun(bench.bootId, bench.build));
    assertThat(bench.scan().state.row().met(Condition.HEAD_KNOWN)).isTrue();
  }

  @Test
  void asksAnewWhoTheHeadIsAfterTheLineWasLost() {
    Bench bench = Bench.ready();
    bench.saysHello = false;
    bench.linkOpen = false;
    bench.run(20);
    bench.linkOpen = true;
    bench.run(20);

    assertThat(bench.state.headHasSaidWho()).isFalse();
    assertThat(bench.state.row().met(Condition.HEAD_KNOWN)).isFalse();
  }

  @Test
  void letsTheKeyBeTurnedOnceTheRightHeadIsThere() {
    Bench bench = new Bench("H-8").run(100);
    bench.set(InputLine.ARM_KEY, false).run(200);
    bench.free(InputLine.ARM_KEY).run(200);
    assertThat(bench.state.trip()).as("with the wrong head").isPresent();

    bench.serialNumber = "H-8";
    bench.bootId++;
    bench.run(100);
    bench.set(InputLine.ARM_KEY, false).run(200);
    bench.free(InputLine.ARM_KEY).run(200);

    assertThat(bench.state.trip()).as("with the right head").isEmpty();
  }

  @Test
  void meetsEachRunOfTheHeadOnce() {
    Bench bench = new Bench();
    int met = 0;
    for (int i = 0; i < 400; i++) {
      bench.bootId = 17 + i / 200;
      if (i % 50 == 0) {
        bench.send(bench.hello());
      }
      met += bench.scan().state.met().isPresent() ? 1 : 0;
    }
    assertThat(met).isEqualTo(2);
  }

  @Test
  @Provokes(TripCause.HEAD_LINE_BAD)
  void tripsOnTheThirdDamagedLineWithinASecond() {
    Bench bench = Bench.ready();
    bench.badLines = 2;
    bench.run(1_000);
    assertThat(bench.tripped()).isEmpty();
    bench.badLines = 3;

    assertThat(bench.scan().tripped()).contains(TripCause.HEAD_LINE_BAD);
    assertThat(bench.firstTrip.orElseThrow().detail()).isEqualTo("3 damaged lines since the start");
  }

  @Test
  @Spares(TripCause.HEAD_LINE_BAD)
  void sparesDamagedLinesThatAreFurtherApart() {
    Bench bench = Bench.ready();
    for (int line = 1; line < 20; line++) {
      bench.badLines = line;
      bench.run(505);
    }

    assertThat(bench.tripped()).isEmpty();
  }

  @Test
  @Spares(TripCause.HEAD_LINE_BAD)
  void sparesWhatCameBeforeTheHeadWasHeard() {
    Bench bench = new Bench();
    bench.headSpeaks = false;
    bench.badLines = 500;
    bench.run(20);
    bench.headSpeaks = true;

    assertThat(bench.run(500).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.PORT_SHARED)
  void tripsWhenTheHeadWasAskedBySomebodyElse() {
    Bench bench = Bench.ready().set(HeadFlag.STRANGER, true).set(HeadFlag.LATCHED, true);

    assertThat(bench.scanToLine().tripped()).contains(TripCause.PORT_SHARED);
  }

  @Test
  @Spares(TripCause.PORT_SHARED)
  void sparesItUntilALineSaysSo() {
    assertThat(Bench.ready().scanToLine().set(HeadFlag.STRANGER, true).scan().tripped()).isEmpty();
  }
}
