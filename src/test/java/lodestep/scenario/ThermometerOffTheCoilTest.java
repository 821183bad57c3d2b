package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import lodestep.app.VirtualBench;
import lodestep.bench.Entry;
import lodestep.bench.PlanRow;
import lodestep.config.RigConfig;
import lodestep.config.ShippedRig;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualLedger;
import org.junit.jupiter.api.Test;

/**
 * Goal: a coil thermometer that has come off its winding, and shows the room with a living
 * converter's noise, is found by the heat of the pulses. Method: rods are dialed in small steps on
 * the virtual bank rig with slighter coils than the shipped ones, which that work hardly warms.
 */
class ThermometerOffTheCoilTest {

  private static final long SEED = 23;
  private static final Instant WALL = Instant.parse("2031-03-04T08:00:00Z");
  private static final RigConfig RIG =
      ShippedRig.read(
          "rig-virtual.toml",
          text ->
              text.replaceAll("heat_joules_per_kelvin = .*", "heat_joules_per_kelvin = 7")
                  .replaceAll("cooling_kelvin_per_watt = .*", "cooling_kelvin_per_watt = 60"));

  private static VirtualBench bench(Fault.CoilSensor.Way way) {
    PlanRow rods = Benches.rod("heron", PoleUp.SOUTH, Benches.level(-650, 12), 6);
    return new VirtualBench(
        new VirtualBench.Setup(RIG, SEED, FaultPlan.NONE.with(new Fault.CoilSensor(way), 0), WALL),
        Benches.batch(PlannerMode.SMALL_STEPS, 0, Entry.planned(List.of(rods), RIG)),
        Benches.prologue(),
        new VirtualLedger(SEED));
  }

  @Test
  void isFoundByTheHeatOfThePulses() {
    try (VirtualBench bench = bench(Fault.CoilSensor.Way.LOOSE)) {
      Optional<Trip> trip = Optional.empty();
      while (trip.isEmpty() && bench.rig().clock().nowNs() < Benches.LONG_NS) {
        bench.runScan();
        trip = bench.scan().snapshot().trip();
      }

      assertThat(trip).map(Trip::cause).contains(TripCause.COIL_RISE_UNSEEN);
    }
  }

  @Test
  void isNoTripWhileItSitsOnTheWinding() {
    try (VirtualBench bench = bench(Fault.CoilSensor.Way.WORKS)) {
      Benches.toTheEnd(bench);

      assertThat(bench.scan().snapshot().trip()).isEmpty();
    }
  }
}
