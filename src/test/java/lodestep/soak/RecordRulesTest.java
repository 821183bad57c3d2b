package lodestep.soak;

import static org.assertj.core.api.Assertions.assertThat;

import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;

/** Goal: each rule of the record can fail, and does not where it only just holds. */
class RecordRulesTest {

  private static Stage intended(Rule rule) {
    Stage stage = new Stage(rule);
    stage.intend(true, 40_000);
    return stage;
  }

  @Test
  void seesASecondOutcomeAnOutcomeOfNothingAndAnUnknownOfItsOwn() {
    Stage once = intended(new RecordRules.OneOutcome());
    assertThat(once.brokenBy(20, Stage.ended("misfired"))).isFalse();
    assertThat(once.brokenBy(21, Stage.ended("misfired"))).as("second").isTrue();

    Stage both = intended(new RecordRules.OneOutcome());
    assertThat(both.brokenBy(20, Stage.ended("delivered"), Stage.ended("delivered"))).isTrue();

    assertThat(new Stage(new RecordRules.OneOutcome()).brokenBy(20, Stage.ended("misfired")))
        .as("of nothing")
        .isTrue();

    Stage own = intended(new RecordRules.OneOutcome());
    own.w.stateBefore = RigState.FIRE;
    assertThat(own.brokenBy(20, Stage.ended("unknown"))).as("unknown of its own").isTrue();

    Stage restarted = intended(new RecordRules.OneOutcome());
    restarted.w.stateBefore = RigState.OPENING;
    assertThat(restarted.brokenBy(20, Stage.ended("unknown"))).isFalse();
  }

  @Test
  void seesAnOutcomeThatWasNot() {
    Stage none = intended(new RecordRules.OutcomeIsTrue());
    assertThat(none.brokenBy(20, Stage.ended("delivered"))).isTrue();
    Stage fired = intended(new RecordRules.OutcomeIsTrue());
    fired.w.record.pulsed(Stage.INTENT);
    assertThat(fired.brokenBy(20, Stage.ended("not fired"))).isTrue();
    assertThat(fired.brokenBy(21, Stage.ended("delivered"))).isFalse();
  }

  private static LedgerEvent.ReadingTaken reading(long microTesla) {
    return new LedgerEvent.ReadingTaken(
        3, "knocked down", microTesla, 20_000, 100, 2150, "rod nest", 2_000, 5, 2);
  }

  private static LedgerEvent.VerdictGiven accepted() {
    return new LedgerEvent.VerdictGiven(
        3, 1, "accepted", 62_500, 20_000, 62_000, 900, 40_000, 1, 3, 0, "");
  }

  @Test
  void seesAcceptanceWithoutAReadingBeforeTheLastPulseOrOutsideTheTolerance() {
    Stage none = intended(new RecordRules.AcceptedByAReading());
    assertThat(none.brokenBy(30, accepted())).as("no reading").isTrue();

    Stage early = intended(new RecordRules.AcceptedByAReading());
    early.brokenBy(20, reading(62_500), Stage.ended("delivered"));
    assertThat(early.brokenBy(30, accepted())).as("before the pulse").isTrue();

    Stage outside = intended(new RecordRules.AcceptedByAReading());
    outside.brokenBy(20, Stage.ended("delivered"), reading(62_901));
    assertThat(outside.brokenBy(30, accepted())).as("outside").isTrue();

    Stage sound = intended(new RecordRules.AcceptedByAReading());
    sound.brokenBy(20, Stage.ended("delivered"), reading(62_900));
    assertThat(sound.brokenBy(30, accepted())).isFalse();
  }

  @Test
  void seesWhatWasOnlyToBeChargedAcceptedAfterAKnockDown() {
    LedgerEvent.VerdictGiven full =
        new LedgerEvent.VerdictGiven(3, 1, "accepted", 79_000, 20_000, 0, 0, 0, 2, 0, 0, "");

    Stage knocked = intended(new RecordRules.AcceptedByAReading());
    knocked.brokenBy(20, Stage.ended("delivered"), reading(79_000));
    assertThat(knocked.brokenBy(30, full)).isTrue();

    Stage sound = intended(new RecordRules.AcceptedByAReading());
    sound.brokenBy(
        20,
        Stage.ended("delivered"),
        new LedgerEvent.ReadingTaken(
            3, "charged", 79_000, 20_000, 100, 2150, "rod nest", 2_000, 5, 2));
    assertThat(sound.brokenBy(30, full)).isFalse();
  }

  @Test
  void seesAnIntentAboveTheCap() {
    Stage stage = new Stage(new RecordRules.IntentWithinCap());
    assertThat(stage.brokenBy(20, Stage.intent(true, 51_000))).isFalse();
    assertThat(stage.brokenBy(21, Stage.intent(true, 51_001))).isTrue();
  }

  @Test
  void forgetsWhatACrashHasTaken() {
    RecordFacts facts = new RecordFacts();
    facts.appended(12, Stage.intent(true, 40_000));
    facts.appended(13, Stage.ended("delivered"));
    facts.appended(14, new LedgerEvent.Tripped(10, "", "", 0));
    facts.appended(15, new LedgerEvent.TripReset(10));
    facts.forgetFresh();
    facts.acknowledged(15);
    assertThat(facts.tripStands()).isFalse();
    assertThat(facts.hasOpenDurableIntent()).isFalse();

    facts.cutTo(14);
    assertThat(facts.tripStands()).as("the reset is gone").isTrue();
    facts.cutTo(12);
    assertThat(facts.tripStands()).isFalse();
    assertThat(facts.hasOpenDurableIntent()).as("the outcome is gone").isTrue();
    facts.cutTo(11);
    assertThat(facts.act(12)).isEmpty();
  }
}
