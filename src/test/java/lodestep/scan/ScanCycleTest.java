package lodestep.scan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import lodestep.interlock.Condition;
import lodestep.port.Command;
import lodestep.port.InputLine;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.PlanAnswer;
import lodestep.port.PlanQuestion;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import org.junit.jupiter.api.Test;

/** What one scan does, in which order, and what it leaves undone. */
class ScanCycleTest {

  private static JobStep busy(ScanBench bench) {
    return new JobStep(
        bench.job,
        Outputs.high(OutputLine.LAMP_BUSY),
        true,
        List.of(new LedgerEvent.PersonAsked("one"), new LedgerEvent.PersonAsked("two")),
        List.of(new HeadRequest.AskHello(), new HeadRequest.AskToken(9)),
        Optional.of(new Sum(4)));
  }

  private record Sum(long number) implements PlanQuestion, PlanAnswer {
    @Override
    public PlanAnswer solve() {
      return this;
    }
  }

  @Test
  void readsThenStepsThenRecordsThenDrivesThenTells() {
    ScanBench bench = ScanBench.ready();
    bench.script = view -> busy(bench);
    bench.run(1);

    assertThat(bench.log)
        .containsExactly(
            "read",
            "take",
            "job",
            "append PersonAsked",
            "append PersonAsked",
            "drive [LAMP_BUSY]",
            "ask",
            "request",
            "request",
            "heartbeat");
    assertThat(bench.events)
        .containsExactly(new LedgerEvent.PersonAsked("one"), new LedgerEvent.PersonAsked("two"));
    assertThat(bench.asked).contains(new Sum(4));
  }

  @Test
  void letsGoBeforeItTellsWhenSomethingTrips() {
    ScanBench bench = ScanBench.holding();
    bench.magnet = 77;
    bench.open.add(InputLine.LID_A);
    bench.run(1);

    assertThat(bench.log)
        .containsExactly(
            "read",
            "take",
            "drive [COIL_REVERSE]",
            "stop",
            "append Tripped",
            "job",
            "drive [COIL_REVERSE]",
            "heartbeat");
    assertThat(bench.events)
        .containsExactly(
            new LedgerEvent.Tripped(
                12,
                TripCause.LID_OPENED.what(),
                "lid contact A open, B closed, bank at 20.00 V",
                77));
  }

  @Test
  void stopsTheHeadOnceForATripAndAppendsItOnce() {
    ScanBench bench = ScanBench.ready();
    bench.open.add(InputLine.STOP_LOOP);
    bench.run(50);

    assertThat(bench.log.stream().filter("stop"::equals)).hasSize(1);
    assertThat(bench.log.stream().filter("append Tripped"::equals)).hasSize(1);
  }

  @Test
  void appendsTheResetOfATrip() {
    ScanBench bench = ScanBench.ready();
    bench.cycle.askStop();
    bench.run(1);
    bench.open.add(InputLine.ARM_KEY);
    bench.run(30);
    bench.open.clear();
    bench.run(30);

    assertThat(bench.events)
        .containsExactly(
            new LedgerEvent.Tripped(10, TripCause.STOP_ASKED.what(), "", 0),
            new LedgerEvent.TripReset(10));
    assertThat(bench.cycle.snapshot().trip()).isEmpty();
  }

  @Test
  void asksTheHeadForNothingWhileATripStands() {
    ScanBench bench = ScanBench.ready();
    bench.script = view -> busy(bench);
    bench.cycle.askStop();
    bench.run(3);

    assertThat(bench.requests).hasSize(3).hasOnlyElementsOfType(HeadRequest.Heartbeat.class);
    assertThat(bench.heartbeats()).noneMatch(HeadRequest.Heartbeat::permit);
  }

  @Test
  void asksTheHeadHowAPulseEndedEvenWhileATripStands() {
    HeadRequest question = new HeadRequest.AskPulse(31);
    ScanBench bench = ScanBench.ready();
    bench.script =
        view ->
            new JobStep(
                bench.job, Outputs.ALL_LOW, false, List.of(), List.of(question), Optional.empty());
    bench.cycle.askStop();
    bench.run(1);

    assertThat(bench.requests).contains(question);
  }

  @Test
  void readsTheStopFlagBeforeAnythingElse() {
    ScanBench bench = ScanBench.ready();
    bench.onRead = bench.cycle::askStop;
    bench.run(1);
    boolean sameScan = bench.cycle.snapshot().trip().isPresent();
    bench.onRead = () -> {};
    bench.run(1);

    assertThat(sameScan).isFalse();
    assertThat(bench.cycle.snapshot().trip().orElseThrow().cause()).isEqualTo(TripCause.STOP_ASKED);
  }

  @Test
  void lowersWhatTheJobMayNotHave() {
    ScanBench bench = ScanBench.ready();
    bench.script =
        view -> bench.want(OutputLine.COIL_FIRE, OutputLine.JIG_ENABLE, OutputLine.BUZZER);
    bench.run(1);

    assertThat(bench.atPins).isEqualTo(Outputs.high(OutputLine.BUZZER));
  }

  @Test
  void sendsAHeartbeatInAScanThatWasLateByNoMoreThanTheLimit() {
    ScanBench bench = ScanBench.ready().runAfter(25 * ScanBench.MS);

    assertThat(bench.heartbeats()).hasSize(1);
  }

  @Test
  void sendsNoHeartbeatInALateScan() {
    ScanBench bench = ScanBench.ready().runAfter(25 * ScanBench.MS + 1);

    assertThat(bench.heartbeats()).isEmpty();
    assertThat(bench.run(1).heartbeats()).hasSize(1);
  }

  @Test
  void sendsNoHeartbeatWhenAnOutputDoesNotReadBack() {
    ScanBench bench = ScanBench.ready();
    bench.stuckHigh = Outputs.high(OutputLine.LAMP_READY);

    assertThat(bench.run(1).heartbeats()).isEmpty();
  }

  @Test
  void asksForThePermitOnlyWhenTheJobWantsItAndTheInterlocksLetIt() {
    ScanBench bench = ScanBench.ready().run(1);
    boolean both = bench.heartbeats().get(0).permit();
    bench.script = view -> JobStep.stay(bench.job, Outputs.ALL_LOW, false);
    bench.forget();
    boolean notWanted = bench.run(1).heartbeats().get(0).permit();
    bench.script = bench::idle;
    bench.open.add(InputLine.ARM_KEY);
    bench.forget();
    boolean notAllowed = bench.run(1).heartbeats().get(0).permit();

    assertThat(List.of(both, notWanted, notAllowed)).containsExactly(true, false, false);
  }

  @Test
  void countsHeartbeatsRoundTheWiresRange() {
    ScanBench bench = ScanBench.ready().run(1);
    int first = bench.heartbeats().get(0).sequence();
    bench.run(65_535 - first);
    bench.forget();
    bench.run(2);

    assertThat(bench.heartbeats())
        .extracting(HeadRequest.Heartbeat::sequence)
        .containsExactly(0, 1);
  }

  @Test
  void doesNotCatchUpAfterALateScan() {
    ScanBench bench = ScanBench.ready().runAfter(45 * ScanBench.MS).run(1);

    CycleTimes times = bench.cycle.snapshot().times();
    assertThat(times.lastLateNs()).isZero();
    assertThat(times.worstLateNs()).isEqualTo(40 * ScanBench.MS);
    assertThat(times.overruns()).isEqualTo(1);
    assertThat(bench.cycle.histogram().count(16)).isEqualTo(1);
    assertThat(LatenessHistogram.belowNs(16)).isEqualTo(65_536_000L);
  }

  @Test
  void countsEveryScanInOneClass() {
    ScanBench bench = ScanBench.ready().runAfter(6 * ScanBench.MS).runAfter(10_000 * ScanBench.MS);
    long counted = 0;
    for (int i = 0; i < LatenessHistogram.CLASSES; i++) {
      counted += bench.cycle.histogram().count(i);
    }

    assertThat(counted).isEqualTo(bench.cycle.snapshot().times().scans());
    assertThat(bench.cycle.histogram().count(10)).isEqualTo(1);
    assertThat(bench.cycle.histogram().count(LatenessHistogram.CLASSES - 1)).isEqualTo(1);
  }

  @Test
  void givesTheJobWhatItReadAndWhatItMayDo() {
    ScanBench bench = ScanBench.ready();
    bench.script = view -> bench.want(OutputLine.LAMP_READY);
    bench.answer = Optional.of(new Sum(6));
    bench.cycle.offer(Command.PAUSE);
    bench.run(2);

    View first = bench.views.get(0);
    View second = bench.views.get(1);
    assertThat(first.plan()).contains(new Sum(6));
    assertThat(second.plan()).isEmpty();
    assertThat(first.commands()).containsExactly(Command.PAUSE);
    assertThat(second.commands()).isEmpty();
    assertThat(first.allowed().isHigh(OutputLine.BANK_HOLD)).isTrue();
    assertThat(second.driven()).isEqualTo(Outputs.high(OutputLine.LAMP_READY));
    assertThat(second.nowNs()).isEqualTo(bench.nowNs);
    assertThat(second.frames()).hasSize(1);
    assertThat(second.status().orElseThrow().receivedAtNs()).isEqualTo(bench.nowNs);
  }

  @Test
  void countsTheTripBeforeItGivesTheJobItsFirstNumber() {
    ScanBench bench = ScanBench.ready();
    long before = bench.cycle.snapshot().view().nextNumber();
    bench.cycle.askStop();
    bench.run(1);

    assertThat(bench.views.get(0).nextNumber()).isEqualTo(before + 1);
    assertThat(bench.views.get(0).trip().orElseThrow().cause()).isEqualTo(TripCause.STOP_ASKED);
  }

  @Test
  void forgetsTheStatusOfAnEarlierBoot() {
    ScanBench bench = ScanBench.ready();
    bench.toSend.add(new HeadFrame.Hello(4, "H-1", HeadFrame.PROTOCOL_VERSION, "0.1", true));
    bench.run(1);

    assertThat(bench.views.get(0).status()).isEmpty();
    assertThat(bench.cycle.snapshot().trip().orElseThrow().cause())
        .isEqualTo(TripCause.HEAD_RESTARTED);
  }

  @Test
  void takesAStopPastTheQueueEvenWhenItIsFull() {
    ScanBench bench = ScanBench.ready();
    boolean room = true;
    for (int i = 0; i < Mailbox.ROOM; i++) {
      room &= bench.cycle.offer(Command.PAUSE);
    }
    boolean more = bench.cycle.offer(Command.FINISH);
    boolean stop = bench.cycle.offer(Command.STOP);
    bench.run(1);

    assertThat(List.of(room, more, stop)).containsExactly(true, false, true);
    assertThat(bench.views.get(0).commands()).hasSize(Mailbox.ROOM).doesNotContain(Command.STOP);
    assertThat(bench.cycle.snapshot().trip().orElseThrow().cause()).isEqualTo(TripCause.STOP_ASKED);
  }

  @Test
  void publishesWhatItDid() {
    ScanBench bench = ScanBench.ready();
    bench.script = view -> bench.want(OutputLine.LAMP_ACCEPT);
    bench.run(1);

    Snapshot snapshot = bench.cycle.snapshot();
    assertThat(snapshot.nowNs()).isEqualTo(bench.nowNs);
    assertThat(snapshot.driven()).isEqualTo(Outputs.high(OutputLine.LAMP_ACCEPT));
    assertThat(snapshot.readBack()).isEqualTo(snapshot.driven());
    assertThat(snapshot.permission().permit()).isTrue();
    assertThat(snapshot.interlocks().says()).hasSameSizeAs(TripCause.values());
    assertThat(snapshot.job()).isEqualTo(bench.job);
    assertThat(snapshot.failure()).isEmpty();
  }

  @Test
  void recordsWhoTheHeadIsOnceForEachOfItsRunsAfterTheJobsOwnEvents() {
    ScanBench bench = new ScanBench();
    bench.script = view -> busy(bench);
    bench.run(1);
    bench.script = bench::idle;
    bench.run(100);
    bench.bootId = 9;
    bench.run(100);

    assertThat(bench.events.subList(0, 3))
        .containsExactly(
            new LedgerEvent.PersonAsked("one"),
            new LedgerEvent.PersonAsked("two"),
            new LedgerEvent.HeadSeen("H-3", HeadFrame.PROTOCOL_VERSION, "0.1", 3, true));
    assertThat(bench.events)
        .filteredOn(LedgerEvent.HeadSeen.class::isInstance)
        .containsExactly(
            new LedgerEvent.HeadSeen("H-3", HeadFrame.PROTOCOL_VERSION, "0.1", 3, true),
            new LedgerEvent.HeadSeen("H-3", HeadFrame.PROTOCOL_VERSION, "0.1", 9, true));
  }

  @Test
  void asksWhoTheHeadIsTenTimesASecondUntilItSaysSo() {
    ScanBench bench = new ScanBench();
    bench.saysHello = false;
    bench.run(200);
    assertThat(bench.requests).filteredOn(HeadRequest.AskHello.class::isInstance).hasSize(10);

    bench.saysHello = true;
    bench.run(1);
    bench.forget();
    bench.run(200);

    assertThat(bench.requests).hasOnlyElementsOfType(HeadRequest.Heartbeat.class);
  }

  /** Lines come all the time and each looks fresh; they were written ever longer ago. */
  @Test
  void tripsOnLinesThatPileUpOnTheWay() {
    ScanBench bench = ScanBench.holding();
    for (int scan = 0; scan < 200; scan++) {
      bench.linesLateMs++;
      bench.run(1);
    }

    Trip trip = bench.views.get(bench.views.size() - 1).trip().orElseThrow();
    assertThat(trip.cause()).isEqualTo(TripCause.HEAD_SILENT);
    assertThat(trip.detail()).isEqualTo("its newest line comes late by 150 ms");
  }

  /** Lines that never come late, of a head whose seconds are too short. */
  @Test
  void tripsOnAHeadWhoseClockGainsThreePartsInAHundred() {
    ScanBench bench = ScanBench.holding();
    for (int scan = 0; scan < 4_000 && bench.cycle.snapshot().trip().isEmpty(); scan++) {
      bench.linesLateMs = -scan * 15L / 100;
      bench.run(1);
    }

    assertThat(bench.cycle.snapshot().trip()).map(Trip::cause).contains(TripCause.HEAD_CLOCK_FAST);
  }

  @Test
  void doesNotFireOnALineThatIsLaterThanItLooks() {
    ScanBench bench = ScanBench.holding();
    assertThat(bench.cycle.snapshot().interlocks().row().met(Condition.STATUS_YOUNG)).isTrue();
    bench.linesLateMs = 60;
    bench.run(1);

    assertThat(bench.views.get(0).trip()).isEmpty();
    assertThat(bench.cycle.snapshot().interlocks().row().met(Condition.STATUS_YOUNG)).isFalse();
  }
}
