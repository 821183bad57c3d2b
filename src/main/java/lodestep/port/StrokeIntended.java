package lodestep.port;

/**
 * A stroke of the reverse jig is about to be made: down to this position and back.
 *
 * @param ordinal which act of this attempt, from 1
 * @param positionMicroMetres the lowest position asked, from home
 * @param gapMicroMetres between the two faces there
 * @param fieldAmperesPerMetre field expected there at the work, without sign
 */
public record StrokeIntended(
    long magnet,
    long attempt,
    long ordinal,
    String purpose,
    boolean drivesNorth,
    long positionMicroMetres,
    long gapMicroMetres,
    long fieldAmperesPerMetre)
    implements LedgerEvent.Intent {

  @Override
  public String source() {
    return "jig";
  }

  @Override
  public LedgerEvent.ActEnded unknown(long number, String why) {
    return new StrokeEnded(number, magnet, "unknown", 0, 0, 0, drivesNorth, 0, why);
  }
}
