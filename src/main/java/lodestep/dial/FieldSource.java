package lodestep.dial;

import java.util.Optional;
import lodestep.config.Limits;
import lodestep.device.Act;
import lodestep.device.Order;
import lodestep.port.LedgerEvent;
import lodestep.quantity.FieldStrength;

/**
 * What makes a field at the work: the one thing that the planner, the sequence and the record know
 * of a coil or a jig. Any thread, immutable.
 */
public sealed interface FieldSource permits CoilDrive {

  /** Its name on this rig. */
  String name();

  /** What it is, after "this": {@code coil}. */
  String noun();

  /** The peak fields that one act can have now. */
  Fields fields(RigNow now);

  /**
   * An act that gives the ordered field, or of those it can give the one it has for it.
   *
   * @param order its field is above zero and held to what the source can give
   * @param intentNumber the number under which its intent is being handed to the ledger
   */
  Act begin(Order order, long intentNumber, RigNow now, Limits limits, long nowNs);

  /** The peaks that the record of an act of this source shows; empty if it shows none. */
  Optional<Swing> swing(LedgerEvent.ActEnded ended);

  /**
   * Peak fields at the work of both signs, each without sign.
   *
   * @param north the largest that drove the gauge's face north
   * @param south the largest of the other sign
   */
  record Swing(FieldStrength north, FieldStrength south) {}
}
