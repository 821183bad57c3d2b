package lodestep.port;

/**
 * What a person is asked to do, and how near the end of it is. Any thread, immutable.
 *
 * @param closeness how much of an approach is done, 0 (far away) to 1 (stop); 0 for anything else
 */
public record HandCue(HandAsk ask, double closeness) {

  /** Something that has no middle. */
  public static HandCue of(HandAsk ask) {
    return new HandCue(ask, 0);
  }
}
