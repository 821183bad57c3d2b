package lodestep.adapter.sound;

import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import lodestep.port.Sound;
import lodestep.port.Tone;

/**
 * A tone from a loudspeaker. A thread of its own opens the device and gives it samples, and alone
 * is held up by it; whoever tells it what to sound only leaves word.
 */
public final class SpeakerTone implements Tone {

  /** A hundredth of a second: a change is heard no later for it. */
  static final int BLOCK = Synthesiser.RATE / 100;

  private static final long OPEN_WAIT_MS = 3_000;
  private static final long CLOSE_WAIT_MS = 300;

  /** Loudness falls to nothing within one block, so the second is silent. */
  private static final int LAST_BLOCKS = 2;

  private final CompletableFuture<Optional<String>> opened = new CompletableFuture<>();
  private final Thread thread;
  private volatile Sound sound = new Sound.Silent();
  private volatile Optional<String> trouble = Optional.empty();
  private volatile boolean closing;

  private SpeakerTone(Speaker.Source source) {
    this.thread = new Thread(() -> run(source), "tone");
    this.thread.setDaemon(true);
  }

  /** Opens the computer's usual sound device; waits three seconds for it at most. */
  public static Opening open() {
    return open(new UsualDevice(), OPEN_WAIT_MS);
  }

  /**
   * A class and no method reference: that would be linked where it is named, and on a Java without
   * sound fail the caller rather than this one thread.
   */
  private static final class UsualDevice implements Speaker.Source {
    @Override
    public Speaker open() throws NoSpeakerException {
      return JavaSpeaker.open();
    }
  }

  static Opening open(Speaker.Source source, long waitMs) {
    SpeakerTone tone = new SpeakerTone(source);
    tone.thread.start();
    Optional<String> why = tone.awaitOpen(waitMs);
    return why.isEmpty() ? new Opening.Opened(tone) : new Opening.None(why.get());
  }

  private Optional<String> awaitOpen(long waitMs) {
    try {
      return opened.get(waitMs, TimeUnit.MILLISECONDS);
    } catch (TimeoutException late) {
      closing = true;
      return Optional.of("the sound device does not answer");
    } catch (InterruptedException ending) {
      closing = true;
      Thread.currentThread().interrupt();
      return Optional.of("the program is being ended");
    } catch (ExecutionException broken) {
      throw new IllegalStateException("opening the sound device failed", broken);
    }
  }

  @Override
  public void sound(Sound next) {
    sound = next;
  }

  @Override
  public Optional<String> trouble() {
    return trouble;
  }

  @Override
  public void close() {
    closing = true;
    try {
      thread.join(CLOSE_WAIT_MS);
    } catch (InterruptedException ending) {
      Thread.currentThread().interrupt();
    }
  }

  private void run(Speaker.Source source) {
    try (Speaker speaker = source.open()) {
      opened.complete(Optional.empty());
      play(speaker);
    } catch (NoSpeakerException none) {
      opened.complete(Optional.of(String.valueOf(none.getMessage())));
    } catch (LinkageError noSound) {
      // A Java without its desktop part lacks the classes; a cut-down one, the native library.
      opened.complete(Optional.of("this Java comes without sound"));
    } catch (RuntimeException broken) {
      // The top of this thread: a tone is never worth the work it accompanies.
      opened.complete(Optional.of("the sound device failed (" + broken + ")"));
      trouble = Optional.of("the sound device failed (" + broken + ")");
    }
  }

  private void play(Speaker speaker) {
    Synthesiser synthesiser = new Synthesiser();
    int last = LAST_BLOCKS;
    while (last > 0) {
      last -= closing ? 1 : 0;
      Sound now = closing ? new Sound.Silent() : sound;
      if (!speaker.write(synthesiser.nextBytes(now, BLOCK))) {
        trouble = Optional.of("the sound device is gone");
        return;
      }
    }
  }
}
