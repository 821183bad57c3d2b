package lodestep.ledger;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import lodestep.ledger.ClockMarks.Mark;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.LedgerCreated;
import lodestep.port.LedgerEvent.PersonAsked;
import lodestep.port.LedgerEvent.ProgramStarted;
import org.junit.jupiter.api.Test;

/** Goal: the order stays whatever the clock says, and a time that cannot be believed is marked. */
class ClockMarksTest {

  private static final Instant MORNING = Instant.parse("2026-06-01T07:00:00Z");

  private final List<EventDraft> drafts = new ArrayList<>();

  private void at(LedgerEvent event, Duration monotonic, Duration wall) {
    drafts.add(new EventDraft(event, monotonic.toNanos(), MORNING.plus(wall)));
  }

  private void start(boolean synchronised, Duration monotonic, Duration wall) {
    at(new ProgramStarted("1", "", "", synchronised), monotonic, wall);
  }

  private void event(Duration monotonic, Duration wall) {
    at(new PersonAsked("stop"), monotonic, wall);
  }

  private List<Mark> marks() {
    MemoryStore store = new MemoryStore();
    store.commit(Chain.link(ChainEnd.EMPTY, drafts));
    ClockMarks marks = ClockMarks.of(store);
    List<Mark> found = new ArrayList<>();
    List<Long> numbers = new ArrayList<>();
    store.forEach(
        1,
        Long.MAX_VALUE,
        stored -> {
          numbers.add(stored.number());
          found.add(marks.of(EventCodec.decode(stored)));
        });
    assertThat(numbers).isSorted().hasSize(drafts.size());
    return found.subList(1, found.size());
  }

  @Test
  void saysNothingOfTimesThatAgree() {
    at(new LedgerCreated("attic", "real", 3), Duration.ZERO, Duration.ZERO);
    start(true, Duration.ofHours(9), Duration.ofSeconds(1));
    event(Duration.ofHours(9).plusMinutes(5), Duration.ofMinutes(5));
    // Another run: its monotonic clock began anew, which says nothing.
    start(true, Duration.ofSeconds(3), Duration.ofDays(4));
    event(Duration.ofMinutes(1), Duration.ofDays(4).plusSeconds(58));

    assertThat(marks()).containsOnly(Mark.SOUND);
  }

  @Test
  void marksWhatFollowsAClockThatWasSetInARun() {
    at(new LedgerCreated("attic", "real", 3), Duration.ZERO, Duration.ZERO);
    start(true, Duration.ofSeconds(10), Duration.ofSeconds(10));
    event(Duration.ofSeconds(20), Duration.ofSeconds(20));
    event(Duration.ofSeconds(30), Duration.ofSeconds(30).minusHours(1));
    event(Duration.ofSeconds(40), Duration.ofSeconds(40).plusHours(1));
    event(Duration.ofSeconds(50), Duration.ofSeconds(50));

    assertThat(marks())
        .containsExactly(Mark.SOUND, Mark.SOUND, Mark.SET_BACK, Mark.SET_FORWARD, Mark.SOUND);
  }

  @Test
  void marksARunThatBeganBeforeTheOneBeforeItEnded() {
    at(new LedgerCreated("attic", "real", 3), Duration.ZERO, Duration.ZERO);
    start(true, Duration.ofSeconds(10), Duration.ofHours(5));
    start(true, Duration.ofSeconds(10), Duration.ofHours(2));
    event(Duration.ofSeconds(20), Duration.ofHours(2).plusSeconds(10));
    // Once it has come past the time that was on record before, it is earlier than nothing.
    event(Duration.ofSeconds(10).plusHours(4), Duration.ofHours(6));

    assertThat(marks()).containsExactly(Mark.SOUND, Mark.SET_BACK, Mark.SET_BACK, Mark.SOUND);
  }

  @Test
  void marksARunWhoseClockNobodyHadSet() {
    at(new LedgerCreated("attic", "real", 3), Duration.ZERO, Duration.ZERO);
    start(false, Duration.ofSeconds(10), Duration.ofSeconds(10));
    event(Duration.ofSeconds(20), Duration.ofSeconds(20));
    event(Duration.ofSeconds(30), Duration.ofSeconds(-301));

    assertThat(marks())
        .containsExactly(Mark.NOT_SYNCHRONISED, Mark.NOT_SYNCHRONISED, Mark.SET_BACK);
  }

  @Test
  void toleratesHowLongAnEntryWaits() {
    at(new LedgerCreated("attic", "real", 3), Duration.ZERO, Duration.ZERO);
    start(true, Duration.ofSeconds(10), Duration.ofSeconds(10));
    event(Duration.ofSeconds(20), Duration.ofSeconds(18));
    event(Duration.ofSeconds(30), Duration.ofSeconds(28).minusMillis(1));

    assertThat(marks()).containsExactly(Mark.SOUND, Mark.SOUND, Mark.SET_BACK);
  }
}
