package lodestep.device;

import lodestep.quantity.FieldStrength;

/**
 * What an act is ordered for, whichever field source carries it out. Any thread, immutable.
 *
 * @param magnet its identity: the ledger number that named it
 * @param attempt counts from 1
 * @param ordinal which act of this attempt, from 1
 * @param purpose as it stands in the record
 * @param drivesNorth whether it drives the gauge's face north
 * @param field peak wanted at the work, &gt; 0, without sign
 */
public record Order(
    long magnet,
    long attempt,
    long ordinal,
    String purpose,
    boolean drivesNorth,
    FieldStrength field) {

  /** The purpose of a charge, as it stands in the record. */
  private static final String CHARGE = "charge";

  /**
   * Which way this magnet is charged: as ordered by a charge, and against every other first act,
   * which takes something away from it.
   */
  public boolean chargesNorth() {
    return purpose.equals(CHARGE) == drivesNorth;
  }
}
