package lodestep.cli;

import java.util.Optional;
import lodestep.port.Sound;
import lodestep.quantity.FluxDensity;

/**
 * Lets a live reading be heard beside what is shown of it: by its size, from the furthest reading
 * since the start or the last reset to a band. One thread.
 *
 * @param inner shows it
 */
record LiveTone(LiveReport inner, Sounding sounding, SoundBand band)
    implements HeadWork.LiveWatcher {

  @Override
  public void live(HeadWork.Live live) {
    inner.live(live);
    sounding.sound(sound(live), live.seconds());
  }

  /** Silence on the line, and an empty seat, are heard as nothing. */
  Sound sound(HeadWork.Live live) {
    Optional<FluxDensity> value =
        live.silence().isPresent() ? Optional.empty() : live.reading().value();
    double tesla = value.map(field -> Math.abs(field.tesla())).orElse(0.0);
    boolean empty = value.map(LiveWords::pole).orElse("").isEmpty() && band.lowTesla() > 0;
    if (value.isEmpty() || empty) {
      return new Sound.Silent();
    }
    double least = live.reading().smallest().map(field -> Math.abs(field.tesla())).orElse(0.0);
    double most = live.reading().largest().map(field -> Math.abs(field.tesla())).orElse(0.0);
    return band.sound(tesla, Math.max(least, most));
  }

  @Override
  public void says(String sentence) {
    inner.says(sentence);
  }
}
