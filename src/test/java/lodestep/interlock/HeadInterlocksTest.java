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

  @Test
  @Provokes(TripCause.HEAD_RESTARTED)
  void tripsOnTheGreetingOfANewBootBeforeItsFirstStatus() {
    Bench bench = Bench.ready().scanToLine();
    bench.send(new HeadFrame.Hello(18, "H-7", 1, "0.1", true));

    assertThat(bench.scan().tripped()).contains(TripCause.HEAD_RESTARTED);
  }

  @Test
  @Spares(TripCause.HEAD_RESTARTED)
  void sparesTheGreetingOfTheSameBoot() {
    Bench bench = Bench.ready().scanToLine();
    bench.send(new HeadFrame.Hello(17, "H-7", 1, "0.1", true));

    assertThat(bench.run(100).tripped()).isEmpty();
  }

  @Test
  @Provokes(TripCause.PERMIT_LOST)
  void tripsWhenThePermitGoesWhileTheBankIsHeld() {
    Bench bench = Bench.holding(1).set(HeadFlag.PERMIT, false);

    assertThat(bench.run(10).tripped()).contains(TripCause.PERMIT_LOST);
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
}
