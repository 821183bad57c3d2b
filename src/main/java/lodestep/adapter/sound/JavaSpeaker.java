package lodestep.adapter.sound;

import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.LineUnavailableException;
import javax.sound.sampled.SourceDataLine;

/** The computer's usual sound device, by the Java platform's own sound. */
record JavaSpeaker(SourceDataLine line) implements Speaker {

  /** As little as devices bear: what is in it is heard later than it was meant. */
  private static final double BUFFERED_SECONDS = 0.06;

  private static final int BYTES_A_SAMPLE = 2;

  /** Opens it; may hold its thread up as long as the system likes. */
  static Speaker open() throws NoSpeakerException {
    try {
      AudioFormat format = new AudioFormat(Synthesiser.RATE, 8 * BYTES_A_SAMPLE, 1, true, false);
      SourceDataLine line = AudioSystem.getSourceDataLine(format);
      int samples = (int) (BUFFERED_SECONDS * Synthesiser.RATE);
      line.open(format, BYTES_A_SAMPLE * samples);
      line.start();
      return new JavaSpeaker(line);
    } catch (LineUnavailableException busy) {
      throw new NoSpeakerException("the sound device is used by another program", busy);
    } catch (IllegalArgumentException none) {
      throw new NoSpeakerException("this computer has no sound device", none);
    } catch (SecurityException denied) {
      throw new NoSpeakerException("the sound device may not be used by you", denied);
    }
  }

  @Override
  public boolean write(byte[] bytes) {
    return line.write(bytes, 0, bytes.length) == bytes.length;
  }

  @Override
  public void close() {
    line.close();
  }
}
