package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import lodestep.config.ReferenceRig;
import lodestep.measure.GaugeCalibration;
import lodestep.panel.Bench;
import lodestep.port.HeadLink;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualRig;
import org.junit.jupiter.api.Test;

/** Goal: the live reading takes its zero from what comes after a person asked for it. */
class LiveGaugeTest {

  private final VirtualRig rig =
      new VirtualRig(ReferenceRig.virtual(), ReferenceRig.ROD_NEST, 3, FaultPlan.NONE);
  private final GaugeCalibration calibration =
      Calibrated.nominally(ReferenceRig.virtual()).calibration();
  private final LiveGauge gauge = new LiveGauge(calibration);
  private final HeadLink head = gauge.tapped(rig.headLink());

  private void pass(int milliseconds) {
    for (int i = 0; i < milliseconds; i++) {
      rig.step();
    }
    head.take();
  }

  /** The lines before it wait in the queue: they may show a magnet that was just taken out. */
  @Test
  void leavesOutLinesThatCameBeforeTheZeroWasAskedFor() {
    pass(400);
    long nowNs = rig.clock().nowNs();

    assertThat(gauge.act(Bench.GaugeAct.ZERO, true, nowNs).done()).isTrue();
    gauge.look(Optional.empty());
    assertThat(gauge.zeroed()).isFalse();
    for (int i = 0; i < 100 && !gauge.zeroed(); i++) {
      pass(100);
      gauge.look(Optional.empty());
    }

    assertThat(gauge.zeroed()).isTrue();
    assertThat(gauge.says()).isEqualTo("the zero is taken");
  }
}
