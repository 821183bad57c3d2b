package lodestep.dial;

import java.util.Optional;
import lodestep.config.Limits;
import lodestep.device.Act;
import lodestep.device.Carried;
import lodestep.device.Order;
import lodestep.port.ActEvent;
import lodestep.port.View;
import lodestep.quantity.FieldStrength;
import lodestep.quantity.Temperature;

/**
 * What makes a field at the work: the one thing that the planner, the sequence and the record know
 * of a coil or a jig. Any thread, immutable.
 */
public sealed interface FieldSource permits CoilDrive, SwitchedDrive, JigDrive {

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

  /** Why it cannot drive this way, in one sentence; empty when it can. */
  default Optional<String> cannotDrive(boolean north) {
    return Optional.empty();
  }

  /** Whether it stands so that the gauge may not be believed, though nothing is energised. */
  default boolean disturbs(View view) {
    return false;
  }

  /** Acts in one attempt; the magnet that needs more is refused. */
  default int actsMax() {
    return Integer.MAX_VALUE;
  }

  /** How well the field of an act near this one is known. */
  Doubt doubt(FieldStrength near, RigNow now);

  /** Above this temperature of the coil no act is begun before it has cooled; empty of no coil. */
  default Optional<Temperature> restAbove() {
    return Optional.empty();
  }

  /** The peaks that the record of an act of this source shows; empty if it shows none. */
  Optional<Swing> swing(ActEvent.ActEnded ended);

  /**
   * What a delivered act carried against what this source's circuit should have; empty if it was
   * not delivered, was too weak to tell, or is no current.
   *
   * @param intent the act's own
   */
  default Optional<Carried> carried(ActEvent.Intent intent, ActEvent.ActEnded ended) {
    return Optional.empty();
  }

  /**
   * Relative standard uncertainties of a field.
   *
   * @param scale of what rig.toml says of this source, the same in every act
   * @param told of the field that an act is told to have had, from act to act, &gt; 0
   * @param delivered of what an act delivers against what is asked of it
   */
  record Doubt(double scale, double told, double delivered) {}

  /**
   * Peak fields at the work of both signs, each without sign.
   *
   * @param north the largest that drove the gauge's face north
   * @param south the largest of the other sign
   */
  record Swing(FieldStrength north, FieldStrength south) {}
}
