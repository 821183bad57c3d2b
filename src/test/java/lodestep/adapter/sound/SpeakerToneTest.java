package lodestep.adapter.sound;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.SynchronousQueue;
import lodestep.adapter.serial.Polling;
import lodestep.port.Sound;
import lodestep.port.Tone;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/**
 * Goal: whoever tells the tone what to sound is never held up by the device, and learns of one that
 * is missing, hangs or goes. Method: devices that the test lets take a block when it likes.
 */
@Timeout(120)
class SpeakerToneTest {

  private static Tone opened(Speaker.Source source) {
    return SpeakerTone.open(source, 60_000)
        .match(
            tone -> tone,
            why -> {
              throw new AssertionError(why);
            });
  }

  private static String refused(Speaker.Source source, long waitMs) {
    return SpeakerTone.open(source, waitMs)
        .match(
            tone -> {
              throw new AssertionError("opened");
            },
            why -> why);
  }

  /** Takes a block only when the test does. */
  private static final class Handed implements Speaker {
    private final BlockingQueue<byte[]> blocks = new SynchronousQueue<>();
    private final CountDownLatch closed = new CountDownLatch(1);

    @Override
    public boolean write(byte[] bytes) {
      try {
        blocks.put(bytes);
        return true;
      } catch (InterruptedException e) {
        return false;
      }
    }

    @Override
    public void close() {
      closed.countDown();
    }
  }

  private static int loudest(byte[] block) {
    int most = 0;
    for (int at = 0; at < block.length; at += 2) {
      most = Math.max(most, Math.abs((short) ((block[at] & 0xff) | block[at + 1] << 8)));
    }
    return most;
  }

  @Test
  void soundsWhatItWasToldLastAndEndsInSilence() throws InterruptedException {
    Handed device = new Handed();
    Tone tone = opened(() -> device);
    assertThat(loudest(device.blocks.take())).isZero();

    tone.sound(new Sound.Rising(0.5));
    device.blocks.take();
    device.blocks.take();
    assertThat(loudest(device.blocks.take())).isGreaterThan(6_000);

    Thread closing = new Thread(tone::close);
    closing.start();
    byte[] last = device.blocks.take();
    while (device.closed.getCount() > 0) {
      byte[] more = device.blocks.poll(1, java.util.concurrent.TimeUnit.MILLISECONDS);
      last = more == null ? last : more;
    }
    closing.join();
    assertThat(loudest(last)).isZero();
  }

  /** The device never takes a block; the test's own end shows that no call waited for it. */
  @Test
  void holdsNobodyUpWhileTheDeviceHangs() throws InterruptedException {
    CountDownLatch never = new CountDownLatch(1);
    CountDownLatch hangs = new CountDownLatch(1);
    Speaker hanging =
        new Speaker() {
          @Override
          public boolean write(byte[] bytes) {
            hangs.countDown();
            try {
              never.await();
            } catch (InterruptedException e) {
              Thread.currentThread().interrupt();
            }
            return false;
          }

          @Override
          public void close() {}
        };
    Tone tone = opened(() -> hanging);
    hangs.await();

    for (int told = 0; told < 100_000; told++) {
      tone.sound(new Sound.Rising(told * 1e-5));
    }
    tone.close();

    assertThat(tone.trouble()).isEmpty();
    never.countDown();
  }

  @Test
  void saysThatADeviceIsGone() {
    ByteArrayOutputStream taken = new ByteArrayOutputStream();
    Speaker pulled =
        new Speaker() {
          @Override
          public boolean write(byte[] bytes) {
            taken.writeBytes(bytes);
            return taken.size() < 2_000;
          }

          @Override
          public void close() {}
        };
    Tone tone = opened(() -> pulled);

    Polling.until("the loss to be told", () -> tone.trouble().isPresent());

    assertThat(tone.trouble()).contains("the sound device is gone");
    tone.close();
  }

  @Test
  void saysWhyThereIsNone() {
    assertThat(
            refused(
                () -> {
                  throw new NoSpeakerException(
                      "this computer has no sound device", new IllegalArgumentException("no line"));
                },
                60_000))
        .isEqualTo("this computer has no sound device");
    assertThat(
            refused(
                () -> {
                  throw new NoClassDefFoundError("javax/sound/sampled/AudioSystem");
                },
                60_000))
        .isEqualTo("this Java comes without sound");
    assertThat(
            refused(
                () -> {
                  throw new IllegalStateException("odd");
                },
                60_000))
        .contains("the sound device failed");
  }

  @Test
  void doesNotWaitForADeviceThatNeverOpens() throws InterruptedException {
    BlockingQueue<Handed> late = new LinkedBlockingQueue<>();
    Handed device = new Handed();
    Speaker.Source slow =
        () -> {
          try {
            return late.take();
          } catch (InterruptedException e) {
            throw new NoSpeakerException("interrupted", e);
          }
        };

    assertThat(refused(slow, 1)).isEqualTo("the sound device does not answer");

    late.put(device);
    while (device.closed.getCount() > 0) {
      byte[] block = device.blocks.poll(1, java.util.concurrent.TimeUnit.MILLISECONDS);
      assertThat(block == null ? 0 : loudest(block)).isZero();
    }
  }
}
