package lodestep.device;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;

/** Goal: a pulse names its range, and is refused when its voltages contradict one another. */
class PulseTest {

  private static Pulse pulse(boolean full, double asked, double highest) {
    return new Pulse(true, full, new Voltage(asked), new Voltage(highest));
  }

  @Test
  void namesItsRange() {
    assertThat(pulse(true, 20, 20.04).range()).isEqualTo("full");
    assertThat(pulse(false, 20, 20.04).range()).isEqualTo("series");
  }

  @Test
  void refusesVoltagesThatContradictOneAnother() {
    assertThat(pulse(true, 20, 20).highest()).isEqualTo(new Voltage(20));
    assertThatThrownBy(() -> pulse(true, 20, 19.99)).isInstanceOf(IllegalArgumentException.class);
    assertThatThrownBy(() -> pulse(true, 0, 20)).isInstanceOf(IllegalArgumentException.class);
  }
}
