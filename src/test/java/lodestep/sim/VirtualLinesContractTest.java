package lodestep.sim;

import lodestep.config.ReferenceRig;
import lodestep.contract.LinesContract;
import lodestep.port.InputLine;
import lodestep.port.Lines;
import lodestep.port.Outputs;

/** The virtual rig's lines keep to what all lines do. */
class VirtualLinesContractTest extends LinesContract {

  private final VirtualRig rig =
      new VirtualRig(ReferenceRig.virtual(), ReferenceRig.ROD_NEST, 5L, FaultPlan.NONE);

  @Override
  protected Lines lines() {
    return rig.lines();
  }

  @Override
  protected void move(InputLine line, boolean closed) {
    boolean moved =
        switch (line) {
          case LID_A -> {
            rig.controls().lidContactA(closed);
            yield true;
          }
          case LID_B -> {
            rig.controls().lidContactB(closed);
            yield true;
          }
          case STOP_LOOP -> {
            rig.controls().stopDevice(!closed);
            yield true;
          }
          case ARM_KEY -> {
            rig.controls().armKey(closed);
            yield true;
          }
          case START_PEDAL -> {
            rig.controls().pedal(closed);
            yield true;
          }
          case WORK_SEAT, FILL_CONTACT, BLEED_CONTACT, REVERSE_CONTACT, FULL_CONTACT -> false;
        };
    if (!moved) {
      throw new IllegalArgumentException("no hand moves " + line);
    }
    rig.step();
  }

  @Override
  protected Outputs standing() {
    return rig.lines().driven();
  }
}
