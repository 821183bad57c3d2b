package lodestep.voice;

import java.util.HashMap;
import java.util.Map;
import lodestep.magnet.FaceModel;
import lodestep.magnet.FluxSource;
import lodestep.magnet.Keeping;
import lodestep.magnet.ResolvedMagnet;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;

/**
 * What a kind of magnet makes around itself when it was dialed to a level: its magnetisation
 * resolved, so that a knocked-down magnet is weaker near its faces than deep inside. One thread.
 */
public final class LevelField {

  private final FaceModel kind;
  private final Length standOff;
  private final Keeping keeping;
  private final ResolvedMagnet magnet;
  private final Map<FluxDensity, ResolvedMagnet.Resolved> known = new HashMap<>();

  /**
   * Some tenths of a second.
   *
   * @param standOff at which levels are read, of the magnet by itself
   */
  public LevelField(FaceModel kind, Length standOff) {
    this.kind = kind;
    this.standOff = standOff;
    this.keeping = Keeping.of(kind, standOff);
    this.magnet = ResolvedMagnet.of(kind.shape(), kind.model().loop());
  }

  /** Its alloy and shape. */
  public FaceModel kind() {
    return kind;
  }

  /** What it keeps of its level. */
  public Keeping keeping() {
    return keeping;
  }

  /** What it reads fully charged. */
  public FluxDensity full() {
    return keeping.full();
  }

  /** The level that is this part of the full charge. */
  public FluxDensity part(double part) {
    return new FluxDensity(part * full().tesla());
  }

  /**
   * Around the magnet, its centre the origin and z along its charge.
   *
   * @throws IllegalArgumentException if it cannot read so much
   */
  public FluxSource at(FluxDensity level) {
    ResolvedMagnet.Resolved resolved = resolved(level);
    return resolved.times(toLevel(resolved, level));
  }

  /** Its mean polarisation by itself, in tesla. */
  public double meanTesla(FluxDensity level) {
    ResolvedMagnet.Resolved resolved = resolved(level);
    return resolved.meanTesla() * toLevel(resolved, level);
  }

  /** What is left between the curve's peak and the very level: next to nothing. */
  private double toLevel(ResolvedMagnet.Resolved resolved, FluxDensity level) {
    return level.tesla() / resolved.at(kind.shape().readAt(standOff)).zTesla();
  }

  private ResolvedMagnet.Resolved resolved(FluxDensity level) {
    return known.computeIfAbsent(level, any -> magnet.knockedDown(keeping.peakFor(level)));
  }
}
