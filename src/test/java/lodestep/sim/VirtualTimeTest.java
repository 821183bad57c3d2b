package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import lodestep.port.PlanAnswer;
import lodestep.port.PlanQuestion;
import org.junit.jupiter.api.Test;

/** Both virtual clocks and the plan desk that answers after a virtual while. */
class VirtualTimeTest {

  private static final Instant MORNING = Instant.parse("2031-05-06T07:00:00Z");

  private record Answer(long number) implements PlanAnswer {}

  private record Question(long number) implements PlanQuestion {
    @Override
    public PlanAnswer solve() {
      return new Answer(number);
    }
  }

  private final VirtualMonotonicClock clock = new VirtualMonotonicClock(500L);

  @Test
  void standsStillUntilItIsMoved() {
    assertThat(clock.nowNs()).isEqualTo(500L);
    assertThat(clock.nowNs()).isEqualTo(500L);

    clock.advance(20L);

    assertThat(clock.nowNs()).isEqualTo(520L);
  }

  @Test
  void refusesToGoBackwards() {
    assertThatThrownBy(() -> clock.advance(-1L)).isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void showsTheWallTimeOfTheVirtualMoment() {
    VirtualWallClock wall = new VirtualWallClock(clock, MORNING);

    clock.advance(61_000_000_000L);

    assertThat(wall.now()).isEqualTo(MORNING.plusSeconds(61));
  }

  @Test
  void jumpsWhenSomebodySetsTheWallClock() {
    VirtualWallClock wall = new VirtualWallClock(clock, MORNING);
    clock.advance(1_000_000_000L);
    assertThat(wall.now()).isEqualTo(MORNING.plusSeconds(1));

    wall.jump(Duration.ofHours(-2));

    assertThat(wall.now()).isEqualTo(MORNING.plusSeconds(1).minus(Duration.ofHours(2)));
  }

  @Test
  void answersAfterItsDelayAndOnlyOnce() {
    VirtualPlanDesk desk = new VirtualPlanDesk(clock, 100L);
    desk.ask(new Question(7));

    assertThat(desk.take(599L)).isEmpty();
    assertThat(desk.take(600L)).isEqualTo(Optional.of(new Answer(7)));
    assertThat(desk.take(601L)).isEmpty();
  }

  @Test
  void letsTheNewestQuestionReplaceOneNotYetAnswered() {
    VirtualPlanDesk desk = new VirtualPlanDesk(clock, 100L);
    desk.ask(new Question(1));
    clock.advance(50L);

    desk.ask(new Question(2));

    assertThat(desk.take(600L)).isEmpty();
    assertThat(desk.take(650L)).isEqualTo(Optional.of(new Answer(2)));
  }

  @Test
  void answersNothingOnceClosed() {
    VirtualPlanDesk desk = new VirtualPlanDesk(clock, 100L);
    desk.ask(new Question(1));

    desk.close();

    assertThat(desk.take(9999L)).isEmpty();
  }
}
