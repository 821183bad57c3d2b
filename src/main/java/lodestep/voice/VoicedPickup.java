package lodestep.voice;

import lodestep.magnet.FaceModel;
import lodestep.magnet.Shape;
import lodestep.paper.BuildNotes;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * A pickup under its strings. One thread.
 *
 * @param standOff at which levels are read, of the magnet by itself
 * @param distance from the pole's face to the middle of a string
 * @param fromBridge where the pole stands
 * @param coil what is said of its coil
 */
public record VoicedPickup(
    FaceModel kind,
    Length standOff,
    PickupField field,
    StringSet set,
    Length distance,
    Length fromBridge,
    CoilSaid coil) {

  /** What past builds are held against, at this level. */
  public BuildNotes.Like like(FluxDensity level) {
    return new BuildNotes.Like(kind.alloy().name(), kind.shape().kind(), level.tesla());
  }

  /** What its magnet reads fully charged. */
  public FluxDensity full() {
    return field.level().full();
  }

  /** What it does to this open string. */
  public StringPull open(int string, FluxDensity level) {
    return openAt(string, level, distance);
  }

  /** The same at another distance. */
  public StringPull openAt(int string, FluxDensity level, Length away) {
    return field.pulls(string, level, away, set.tuned().get(string).string(), fromBridge, 0).get(0);
  }

  /** The string that is out of tune by most, fully charged. */
  public int most() {
    int most = 0;
    double least = 0;
    for (int at = 0; at < set.tuned().size(); at++) {
      double cents = open(at, full()).cents();
      if (cents < least) {
        least = cents;
        most = at;
      }
    }
    return most;
  }

  /** The same pickup with this said of its coil. */
  VoicedPickup about(CoilSaid said) {
    return new VoicedPickup(kind, standOff, field, set, distance, fromBridge, said);
  }

  /** The same pickup with another kind of magnet. */
  public VoicedPickup with(FaceModel other) {
    LevelField level = new LevelField(other, standOff);
    return new VoicedPickup(other, standOff, field.with(level), set, distance, fromBridge, coil);
  }

  /**
   * Levels of these magnets, one for all or one for each string, the lowest first; their full
   * charge where none is written.
   *
   * @param sign before the field's word in a refusal
   * @throws IllegalArgumentException with one sentence, if they cannot read so much
   */
  public Levels levels(String sign, String written) {
    if (!written.contains(";")) {
      return Levels.alike(level(sign, written), set.tuned().size());
    }
    if (kind.shape() instanceof Shape.Bar) {
      throw new IllegalArgumentException(sign + "level: one bar has one level; say that alone");
    }
    Levels levels = Levels.read(written, set, sign);
    levels.each().forEach(each -> requireHeld(sign, each, each.inGauss()));
    return levels;
  }

  private void requireHeld(String sign, FluxDensity level, String written) {
    if (!(level.tesla() > 0 && level.compareTo(full()) <= 0)) {
      throw new IllegalArgumentException(
          sign
              + "level: this magnet reads up to "
              + full().inGauss()
              + " fully charged, and more than nothing; not "
              + written);
    }
  }

  /**
   * A level of this magnet; its full charge where none is written.
   *
   * @param sign before the field's word in a refusal
   * @throws IllegalArgumentException with one sentence, if it cannot read so much
   */
  public FluxDensity level(String sign, String written) {
    if (written.isBlank()) {
      return full();
    }
    FluxDensity level =
        PickupAsked.said(sign + "level", () -> FluxDensity.parse(written).magnitude());
    requireHeld(sign, level, written);
    return level;
  }
}
