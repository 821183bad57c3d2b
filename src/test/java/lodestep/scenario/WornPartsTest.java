package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Collections;
import java.util.List;
import lodestep.app.SaidForms;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.device.BankLeft;
import lodestep.device.RigWear;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.RigMemory;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualRig;
import org.junit.jupiter.api.Test;

/**
 * Goal: a bank that has lost capacitance fires nothing, and what the record tells of it is near the
 * truth. Method: whole virtual rigs with a worn part, and what earlier runs have left on record.
 */
class WornPartsTest {

  private static final long SEED = 11;

  /** 22 Ω times 22 mF, with the release of the hold relay, as the virtual rig proves it. */
  private static final double NEW_SECONDS = 0.492;

  private static Batch rods(int count) {
    return Benches.batch(
        PlannerMode.CURVE, Benches.rod("rod", PoleUp.SOUTH, Benches.level(-650, 12), count));
  }

  private static RigMemory known(BankLeft left) {
    return RigMemory.none().with(new RigWear(left));
  }

  private static BankLeft proofs(double newest, int count) {
    return new BankLeft(
        Collections.nCopies(BankLeft.FIRST, NEW_SECONDS),
        Collections.nCopies(count, newest * NEW_SECONDS));
  }

  private static FaultPlan bankLeft(double part) {
    return FaultPlan.NONE.with(new Fault.CapacitanceLost(part), VirtualRig.START_NS);
  }

  /** Runs until a person is asked to look. */
  private static BatchJob.Attention toAttention(VirtualBench bench) {
    long untilNs = bench.rig().clock().nowNs() + Benches.LONG_NS;
    while (!(bench.job() instanceof BatchJob.Attention)
        && !bench.done()
        && bench.rig().clock().nowNs() < untilNs) {
      bench.runScan();
    }
    assertThat(bench.job()).isInstanceOf(BatchJob.Attention.class);
    return (BatchJob.Attention) bench.job();
  }

  private static <E extends LedgerEvent> List<E> all(VirtualBench bench, Class<E> kind) {
    return JigBenches.events(bench.ledger().archive()).stream()
        .filter(kind::isInstance)
        .map(kind::cast)
        .toList();
  }

  @Test
  void firesNothingOnABankWhoseProofShowsATenthLost() {
    // Four on record and the one that is about to be made are the newest five.
    Batch batch = rods(1).with(known(proofs(0.85, 4)));
    try (VirtualBench bench = Benches.bench(batch, SEED, bankLeft(0.85))) {
      BatchJob.Attention asked = toAttention(bench);

      assertThat(asked.why()).contains("pulse not fired", "of its capacitance", "'new_since'");
      assertThat(SaidForms.ofTheBundle().unknown(asked.sentence())).isEmpty();
      // Until all of it is on disk, and the bank has bled.
      for (int scan = 0; scan < 300; scan++) {
        bench.runScan();
      }
      assertThat(all(bench, LedgerEvent.BankProven.class)).hasSize(1);
      assertThat(all(bench, ActEvent.PulseEnded.class))
          .extracting(ActEvent.PulseEnded::outcome)
          .containsExactly("not fired");
      assertThat(all(bench, LedgerEvent.VerdictGiven.class))
          .extracting(LedgerEvent.VerdictGiven::verdict)
          .containsExactly("tripped");
      assertThat(bench.rig().plant().bankVoltage().volts()).isLessThan(2);

      // "Go on" does not help: the bank is what it is, and the next pulse is not fired either.
      int before = all(bench, ActEvent.PulseEnded.class).size();
      while (all(bench, ActEvent.PulseEnded.class).size() == before) {
        bench.runScan();
      }
      assertThat(all(bench, ActEvent.PulseEnded.class))
          .extracting(ActEvent.PulseEnded::outcome)
          .containsOnly("not fired");
    }
  }

  @Test
  void worksOnWithABankThatOnlyWarns() {
    Batch batch = rods(1).with(known(proofs(0.93, 4)));
    try (VirtualBench bench = Benches.bench(batch, SEED, bankLeft(0.93))) {
      Benches.toTheEnd(bench);
      BankLeft left = bench.job().batch().memory().wear().bank();
      assertThat(left.low()).isTrue();
      assertThat(left.lost()).isFalse();
    }
  }

  @Test
  void tellsBySomeProofsWhatAVirtualBankHasLost() {
    try (VirtualBench bench = Benches.bench(rods(5), SEED, bankLeft(0.92))) {
      Benches.toTheEnd(bench);
      BankLeft left = proofs(1, 0);
      for (LedgerEvent.BankProven proof : all(bench, LedgerEvent.BankProven.class)) {
        left = left.with(proof);
      }
      assertThat(left.part().orElseThrow()).isBetween(0.91, 0.93);
    }
  }
}
