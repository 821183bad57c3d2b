package lodestep.panel;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/** Goal: a second press while an answer is being worked out waits for it and is answered. */
class InTurnTest {

  private static final long LONG_MS = 600_000;

  private final ExecutorService pages = Executors.newCachedThreadPool();
  private final CountDownLatch begun = new CountDownLatch(1);
  private final CountDownLatch goOn = new CountDownLatch(1);

  @AfterEach
  void end() {
    pages.shutdownNow();
  }

  private String slow() {
    begun.countDown();
    try {
      goOn.await();
    } catch (InterruptedException ended) {
      Thread.currentThread().interrupt();
    }
    return "the first answer";
  }

  private CompletableFuture<String> asked(InTurn turn, String answer) {
    return CompletableFuture.supplyAsync(() -> turn.of(() -> answer), pages);
  }

  @Test
  void answersWhoAsksMeanwhileAfterTheOneInWork() throws InterruptedException {
    InTurn turn = new InTurn(LONG_MS);
    CompletableFuture<String> first =
        CompletableFuture.supplyAsync(() -> turn.of(this::slow), pages);
    begun.await();
    List<CompletableFuture<String>> meanwhile = new ArrayList<>();
    for (int n = 1; n <= InTurn.WAITING_MAX; n++) {
      meanwhile.add(asked(turn, "answer " + n));
    }
    while (turn.waiting() < InTurn.WAITING_MAX) {
      Thread.onSpinWait();
    }

    assertThatThrownBy(() -> turn.of(() -> "one too many"))
        .isInstanceOf(Refused.class)
        .hasMessageContaining("ask again in a minute");
    assertThat(meanwhile).noneMatch(CompletableFuture::isDone);
    goOn.countDown();

    assertThat(first.join()).isEqualTo("the first answer");
    assertThat(meanwhile.stream().map(CompletableFuture::join))
        .containsExactly("answer 1", "answer 2", "answer 3");
    assertThat(turn.of(() -> "afterwards")).isEqualTo("afterwards");
  }

  @Test
  void refusesWhereTheTurnDoesNotComeAndLosesNoPlaceByIt() throws InterruptedException {
    InTurn turn = new InTurn(0);
    CompletableFuture<String> first =
        CompletableFuture.supplyAsync(() -> turn.of(this::slow), pages);
    begun.await();

    for (int n = 0; n < 2 * InTurn.WAITING_MAX; n++) {
      assertThatThrownBy(() -> turn.of(() -> "not yet"))
          .isInstanceOf(Refused.class)
          .hasMessageContaining("is not worked out yet");
    }
    goOn.countDown();

    assertThat(first.join()).isEqualTo("the first answer");
    assertThat(turn.of(() -> "now")).isEqualTo("now");
  }

  @Test
  void givesTheTurnOnWhereTheWorkIsRefused() {
    InTurn turn = new InTurn(0);
    assertThatThrownBy(
            () ->
                turn.of(
                    () -> {
                      throw new IllegalArgumentException("size: no such rod");
                    }))
        .hasMessage("size: no such rod");
    assertThat(turn.of(() -> "now")).isEqualTo("now");
  }
}
