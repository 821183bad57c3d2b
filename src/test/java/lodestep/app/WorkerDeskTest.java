package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Supplier;
import lodestep.adapter.serial.Polling;
import lodestep.port.PlanAnswer;
import lodestep.port.PlanQuestion;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/** Questions are worked out elsewhere, and only the newest one's answer is handed out. */
class WorkerDeskTest {

  private final WorkerDesk desk = new WorkerDesk();

  private record Answer(long number) implements PlanAnswer {}

  private record Question(long number, Supplier<PlanAnswer> work) implements PlanQuestion {
    @Override
    public PlanAnswer solve() {
      return work.get();
    }
  }

  private static Question question(long number) {
    return new Question(number, () -> new Answer(number));
  }

  @AfterEach
  void close() {
    desk.close();
  }

  private PlanAnswer awaited() {
    List<PlanAnswer> taken = new ArrayList<>();
    Polling.until(
        "an answer",
        () -> {
          desk.take(0L).ifPresent(taken::add);
          return !taken.isEmpty();
        });
    return taken.get(0);
  }

  @Test
  void answersOnceAndOnAnotherThread() {
    Thread asking = Thread.currentThread();
    AtomicReference<Thread> solving = new AtomicReference<>(asking);
    desk.ask(
        new Question(
            1,
            () -> {
              solving.set(Thread.currentThread());
              return new Answer(1);
            }));

    assertThat(awaited().number()).isEqualTo(1);
    assertThat(solving.get()).isNotSameAs(asking);
    assertThat(desk.take(0L)).isEmpty();
  }

  @Test
  void hasNoAnswerWhileItWorks() {
    CountDownLatch go = new CountDownLatch(1);
    desk.ask(held(1, go));

    assertThat(desk.take(0L)).isEmpty();
    go.countDown();

    assertThat(awaited().number()).isEqualTo(1);
  }

  @Test
  void neverHandsOutTheAnswerToAnOlderQuestion() {
    CountDownLatch go = new CountDownLatch(1);
    desk.ask(held(1, go));
    desk.ask(question(2));
    desk.ask(question(3));
    go.countDown();

    assertThat(awaited().number()).isEqualTo(3);
  }

  private static Question held(long number, CountDownLatch go) {
    return new Question(
        number,
        () -> {
          try {
            go.await();
          } catch (InterruptedException closed) {
            Thread.currentThread().interrupt();
          }
          return new Answer(number);
        });
  }

  @Test
  void throwsWhatTheWorkingOutThrewToWhoeverTakes() {
    StackOverflowError error = new StackOverflowError("too deep");
    desk.ask(
        new Question(
            1,
            () -> {
              throw error;
            }));

    assertThatThrownBy(this::awaited).isInstanceOf(IllegalStateException.class).hasCause(error);
  }

  @Test
  void goesOnAfterAQuestionThatThrew() {
    desk.ask(
        new Question(
            1,
            () -> {
              throw new IllegalStateException("no root");
            }));
    assertThatThrownBy(this::awaited).hasMessageContaining("planner");

    desk.ask(question(2));

    assertThat(awaited().number()).isEqualTo(2);
  }
}
