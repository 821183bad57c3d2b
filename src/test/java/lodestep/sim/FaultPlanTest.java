package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;

/** Faults come and go at their times, alone and together. */
class FaultPlanTest {

  @Test
  void raisesAFaultAtItsTimeAndHealsItAtTheEnd() {
    FaultState state = new FaultState(FaultPlan.NONE.with(new Fault.SwitchOpen(), 100L, 200L));

    state.advance(99L);
    assertThat(state.switchOpen).isFalse();
    assertThat(state.advance(100L)).isTrue();
    assertThat(state.switchOpen).isTrue();
    assertThat(state.advance(199L)).isFalse();
    assertThat(state.switchOpen).isTrue();
    assertThat(state.advance(200L)).isTrue();

    assertThat(state.switchOpen).isFalse();
  }

  @Test
  void keepsOneFaultWhenAnotherHeals() {
    FaultState state =
        new FaultState(
            FaultPlan.NONE
                .with(new Fault.RelayStuck(RelayName.FILL, true), 10L)
                .with(new Fault.RelayStuck(RelayName.HOLD, true), 20L, 30L));

    state.advance(25L);
    assertThat(state.relaysStuckPulled).isEqualTo(RelayName.FILL.bit() | RelayName.HOLD.bit());
    state.advance(30L);

    assertThat(state.relaysStuckPulled).isEqualTo(RelayName.FILL.bit());
  }

  @Test
  void saysNothingChangedWhenThereAreNoFaults() {
    FaultState state = new FaultState(FaultPlan.NONE);
    state.advance(0L);

    assertThat(state.advance(Long.MAX_VALUE - 1)).isFalse();
  }

  @Test
  void refusesAFaultThatEndsBeforeItBegins() {
    assertThatThrownBy(() -> FaultPlan.NONE.with(new Fault.HeadDown(), 20L, 20L))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("before it begins");
  }
}
