package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import lodestep.config.JigConfig;
import lodestep.firmware.NativeHead;
import lodestep.protocol.RefusalReason;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Goal: the firmware steps a jig exactly as the virtual head does. Method: the virtual head moves a
 * virtual carriage that stalls, loses steps, turns the wrong way and has broken switches; the
 * firmware is given the very same inputs, and must make the same steps in the same millisecond,
 * count the same position, and refuse what is refused, for the same reason.
 */
class NativeMotionTest {

  private static final FaultPlan BREAKS = breaks();

  private final NativeHead head;
  private final SplittableRandom random = new SplittableRandom(17);
  private final StringBuilder acts = new StringBuilder();
  private final List<String> expected = new ArrayList<>();
  private int moved;
  private int homings;

  NativeMotionTest(@TempDir Path folder) {
    this.head = NativeHead.builtIn(folder);
  }

  private static FaultPlan breaks() {
    List<Fault> faults =
        List.of(
            new Fault.JigStalled(),
            new Fault.JigStepsLost(0.05),
            new Fault.JigReversed(),
            new Fault.JigSwitchStuck(true, true),
            new Fault.JigSwitchStuck(true, false),
            new Fault.JigSwitchStuck(false, true),
            new Fault.JigSwitchStuck(false, false),
            new Fault.JigSwitchFlickers(true));
    FaultPlan plan = FaultPlan.NONE;
    for (int i = 0; i < faults.size(); i++) {
      long fromNs = (40 + 25L * i) * 1_000_000_000L;
      plan = plan.with(faults.get(i), fromNs, fromNs + 9_000_000_000L);
    }
    return plan;
  }

  @Test
  void stepsMillisecondByMillisecondAsTheVirtualHeadDoes() {
    jig(2_000_000, 1_600, 78_000, 8_000);
    jig(1_587_500, 200, 33_000, 3_300);
    jig(1_250_000, 51_200, 120_000, 10_000);
    jig(2_000_000, 400, 9_000, 700);

    List<String> said = head.answer("motion", acts.toString());

    for (int i = 0; i < expected.size(); i++) {
      assertThat(said.get(i)).as("answer %d", i).isEqualTo(expected.get(i));
    }
    assertThat(said).hasSameSizeAs(expected);
    assertThat(moved).as("milliseconds with steps").isGreaterThan(100_000);
    assertThat(homings).as("homes found").isGreaterThan(6);
  }

  private void jig(int pitchNm, int steps, int travel, int speed) {
    acts.append("j ").append(pitchNm).append(' ').append(steps).append(' ').append(travel);
    acts.append(' ').append(speed).append('\n');
    HeadMotion twin =
        new HeadMotion(Optional.of(new HeadMotion.Build(pitchNm, steps, travel, speed)));
    FaultState faults = new FaultState(BREAKS);
    Carriage carriage =
        new Carriage(
            config(pitchNm, steps, travel, speed), 5, new Plant.Drawn(random.split(), faults));
    boolean permit = true;
    boolean enabled = true;
    for (int ms = 0; ms < 300_000; ms++) {
      faults.advance(ms * 1_000_000L);
      permit = random.nextInt(40_000) == 0 ? !permit : permit || random.nextInt(300) == 0;
      enabled = random.nextInt(40_000) == 0 ? !enabled : enabled || random.nextInt(300) == 0;
      HeadMotion.Inputs in =
          new HeadMotion.Inputs(permit, enabled, carriage.homeClosed(), carriage.farClosed());
      // For a while in each minute it is asked again before it can have come anywhere.
      boolean insists = ms % 60_000 < 12_000 && ms % 700 == 0;
      if (insists || random.nextInt(4_000) == 0) {
        ask(twin, in, travel);
      }
      boolean before = twin.homed();
      int made = twin.step(in);
      for (int i = 0; i < Math.abs(made); i++) {
        carriage.step(made > 0);
      }
      moved += made == 0 ? 0 : 1;
      homings += twin.homed() && !before ? 1 : 0;
      acts.append('s').append(bits(in));
      expected.add(made + " " + twin.positionMicroMetres() + (twin.homed() ? " 1" : " 0"));
    }
  }

  private void ask(HeadMotion twin, HeadMotion.Inputs in, int travel) {
    int to =
        !twin.homed() || random.nextInt(3) == 0
            ? 0
            : random.nextInt(30) == 0
                ? travel + 1 - 2 * random.nextInt(2) * (travel + 1)
                : 1 + random.nextInt(travel);
    acts.append("m ").append(to).append(bits(in));
    expected.add(twin.moveTo(to, in).map(RefusalReason::code).orElse(0).toString());
  }

  private static String bits(HeadMotion.Inputs in) {
    return bit(in.permit()) + bit(in.enabled()) + bit(in.homeClosed()) + bit(in.farClosed()) + "\n";
  }

  private static String bit(boolean up) {
    return up ? " 1" : " 0";
  }

  private static JigConfig config(int pitchNm, int steps, int travel, int speed) {
    return new JigConfig(
        new JigConfig.Screw(
            new Length(pitchNm * 1e-9),
            steps,
            Length.ofMicroMetres(travel),
            Length.ofMm(2),
            speed * 1e-3),
        new JigConfig.Opposing(Length.ofMm(20), Length.ofMm(12), new FluxDensity(1.28), false),
        Length.ofMm(150),
        Length.ofMm(3),
        new Length(6),
        Temperature.ofDegC(60));
  }
}
