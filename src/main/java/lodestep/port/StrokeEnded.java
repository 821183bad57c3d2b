package lodestep.port;

/**
 * How a stroke ended.
 *
 * @param positionMicroMetres the lowest position the carriage was seen at, from home
 * @param gapMicroMetres between the two faces there
 * @param fieldAmperesPerMetre field at the work there, by the gap curve then known
 */
public record StrokeEnded(
    long intent,
    long magnet,
    String outcome,
    long positionMicroMetres,
    long gapMicroMetres,
    long fieldAmperesPerMetre,
    boolean drivesNorth,
    long bootId,
    String why)
    implements LedgerEvent.ActEnded {}
