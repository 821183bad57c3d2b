package lodestep.adapter.sound;

import lodestep.port.Sound;

/**
 * Makes the samples of a tone, 16 bits signed, one channel. Confined to one thread.
 *
 * <pre>
 * rising   one tone of {@value #LOWEST_HERTZ} Hz · 2 ^ ({@value #OCTAVES} · nearness)
 * inside   two tones at once, {@value #INSIDE_HERTZ} Hz and a fifth above it, steady
 * past     two low tones in turn, {@value #PAST_HIGH_HERTZ} and {@value #PAST_LOW_HERTZ} Hz, each
 *          an eighth of a second long
 * </pre>
 *
 * <p>A phase is never set, only moved on, and pitch and loudness glide: so no change clicks. The
 * tones lie where small loudspeakers are heard, and inside the band above all that rises.
 */
final class Synthesiser {

  /** Samples a second: enough for the highest tone, and known to every sound device. */
  static final int RATE = 22_050;

  static final double LOWEST_HERTZ = 300;
  static final double OCTAVES = 2;
  static final double INSIDE_HERTZ = 1_600;
  static final double PAST_HIGH_HERTZ = 520;
  static final double PAST_LOW_HERTZ = 390;

  /** A pure fifth, which no single tone can be taken for. */
  static final double FIFTH = 1.5;

  /** Of full scale, each of two tones at most: clearly heard, and never clipped. */
  static final double LOUDNESS = 0.22;

  private static final double TURN_SECONDS = 0.125;
  private static final double GLIDE_SECONDS = 0.01;
  private static final double RAMP_PER_SAMPLE = 1 / (0.01 * RATE);
  private static final double TURNS_OF_A_CIRCLE = 2 * Math.PI;

  private double hertz = LOWEST_HERTZ;
  private double loud;
  private double loudFifth;
  private double phase;
  private double phaseFifth;
  private long sinceChange;
  private Sound sounding = new Sound.Silent();

  /**
   * The next samples.
   *
   * @param samples how many, in the order they sound; each from -1 to 1 of full scale
   */
  double[] next(Sound sound, int samples) {
    if (!sound.getClass().equals(sounding.getClass())) {
      sinceChange = 0;
    }
    sounding = sound;
    double[] made = new double[samples];
    for (int i = 0; i < samples; i++) {
      made[i] = sample();
    }
    return made;
  }

  /** The next samples as bytes, low byte first. */
  byte[] nextBytes(Sound sound, int samples) {
    byte[] bytes = new byte[2 * samples];
    double[] made = next(sound, samples);
    for (int i = 0; i < samples; i++) {
      int value = (int) Math.round(made[i] * Short.MAX_VALUE);
      bytes[2 * i] = (byte) value;
      bytes[2 * i + 1] = (byte) (value >> 8);
    }
    return bytes;
  }

  private double sample() {
    boolean silent = sounding instanceof Sound.Silent;
    boolean inside = sounding instanceof Sound.Inside;
    loud = toward(loud, silent ? 0 : LOUDNESS);
    loudFifth = toward(loudFifth, inside ? LOUDNESS : 0);
    hertz += (wantedHertz() - hertz) / (GLIDE_SECONDS * RATE);
    phase = moved(phase, hertz);
    phaseFifth = moved(phaseFifth, FIFTH * INSIDE_HERTZ);
    sinceChange++;
    return loud * Math.sin(phase) + loudFifth * Math.sin(phaseFifth);
  }

  private double wantedHertz() {
    if (sounding instanceof Sound.Rising rising) {
      return hertz(rising.nearness());
    }
    if (sounding instanceof Sound.Inside) {
      return INSIDE_HERTZ;
    }
    if (sounding instanceof Sound.Past) {
      boolean high = (long) (sinceChange / (TURN_SECONDS * RATE)) % 2 == 0;
      return high ? PAST_HIGH_HERTZ : PAST_LOW_HERTZ;
    }
    return hertz;
  }

  /** The pitch at this nearness, 0 to 1, in hertz. */
  static double hertz(double nearness) {
    return LOWEST_HERTZ * Math.pow(2, OCTAVES * nearness);
  }

  private static double toward(double now, double wanted) {
    double step = RAMP_PER_SAMPLE * LOUDNESS;
    return now + Math.max(-step, Math.min(step, wanted - now));
  }

  private static double moved(double from, double withHertz) {
    double to = from + TURNS_OF_A_CIRCLE * withHertz / RATE;
    return to < TURNS_OF_A_CIRCLE ? to : to - TURNS_OF_A_CIRCLE;
  }
}
