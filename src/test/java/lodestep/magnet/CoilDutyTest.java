package lodestep.magnet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import lodestep.quantity.Temperature;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

/** Many pulses, one after the other. */
class CoilDutyTest {

  private static final Temperature ROOM = Temperature.ofDegC(22);
  private static final Temperature LIMIT = Temperature.ofDegC(65);

  /** Pulse by pulse, which knows nothing of the sum of a geometric series. */
  @Property(tries = 100)
  void isTheSumOfItsPulses(
      @ForAll @DoubleRange(min = 0.01, max = 5) double rise,
      @ForAll @DoubleRange(min = 30, max = 3000) double cooling,
      @ForAll @DoubleRange(min = 1, max = 200) double period,
      @ForAll @IntRange(min = 1, max = 300) int pulses) {
    double above = 0;
    for (int pulse = 0; pulse < pulses; pulse++) {
      above = above * Math.exp(-period / cooling) + rise;
    }

    Temperature last = new CoilDuty(rise, cooling).afterPulses(pulses, period, ROOM);

    assertThat(last.degC() - ROOM.degC()).isCloseTo(above, within(1e-9 * Math.max(1, above)));
  }

  /** At the shortest period the limit is reached and not passed, however long it goes on. */
  @Property(tries = 100)
  void theShortestPeriodJustKeepsTheLimit(
      @ForAll @DoubleRange(min = 0.05, max = 20) double rise,
      @ForAll @DoubleRange(min = 30, max = 3000) double cooling) {
    CoilDuty duty = new CoilDuty(rise, cooling);
    double period = duty.periodSeconds(LIMIT, ROOM);

    double last = duty.afterPulses(1_000_000, period, ROOM).degC();
    double hasty = duty.afterPulses(1_000_000, 0.98 * period, ROOM).degC();

    assertThat(last).isCloseTo(LIMIT.degC(), within(1e-6));
    assertThat(hasty).isGreaterThan(LIMIT.degC());
    assertThat(duty.pulsesPerHour(LIMIT, ROOM)).isCloseTo(3600 / period, within(1e-9 * 3600));
  }

  @Test
  void aPulseThatPassesTheLimitIsNeverAllowed() {
    assertThat(new CoilDuty(50, 600).pulsesPerHour(LIMIT, ROOM)).isZero();
    assertThat(new CoilDuty(1, 600).pulsesPerHour(ROOM, LIMIT)).isZero();
  }

  @Test
  void refusesFiguresThatAreNotAboveZero() {
    assertThatThrownBy(() -> new CoilDuty(0, 600)).hasMessageContaining("above zero");
    assertThatThrownBy(() -> new CoilDuty(1, Double.NaN)).hasMessageContaining("above zero");
    assertThatThrownBy(() -> new CoilDuty(1, 600).afterPulses(-1, 1, ROOM))
        .hasMessageContaining("-1 pulses");
  }
}
