package lodestep.scenario;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import java.util.Collections;
import java.util.List;
import lodestep.app.SaidForms;
import lodestep.app.VirtualBench;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.PlanRow;
import lodestep.bench.WearOnRecord;
import lodestep.device.BankLeft;
import lodestep.device.Carried;
import lodestep.device.RigWear;
import lodestep.device.UsualCurrents;
import lodestep.dial.PlannerMode;
import lodestep.dial.PoleUp;
import lodestep.dial.RigMemory;
import lodestep.ledger.MemoryStore;
import lodestep.port.ActEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.Outputs;
import lodestep.sim.Fault;
import lodestep.sim.FaultPlan;
import lodestep.sim.VirtualRig;
import org.junit.jupiter.api.Test;

/**
 * Goal: a bank that has lost capacitance fires nothing, a coil with shorted turns fires once, and
 * what the record tells of them is near the truth. Method: whole virtual rigs with a worn part, and
 * what earlier runs have left on record.
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
    return RigMemory.none().with(new RigWear(left, UsualCurrents.UNKNOWN));
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

  /** The rod coil as it carries on the virtual rig, five pulses of each range on record. */
  private static RigMemory usual() {
    UsualCurrents known = UsualCurrents.UNKNOWN;
    for (int i = 0; i < UsualCurrents.ENOUGH; i++) {
      known = known.with(new Carried("rod coil", true, 1.002));
      known = known.with(new Carried("rod coil", false, 1.001));
    }
    return RigMemory.none().with(new RigWear(BankLeft.UNKNOWN, known));
  }

  private static FaultPlan turns(double inductanceLeft) {
    return FaultPlan.NONE.with(new Fault.TurnsShorted(inductanceLeft), VirtualRig.START_NS);
  }

  private static long delivered(VirtualBench bench) {
    return all(bench, ActEvent.PulseEnded.class).stream()
        .filter(ended -> ended.outcome().equals("delivered"))
        .count();
  }

  /** So long that all is on disk, and shorter than the operator takes to say "go on". */
  private static void settle(VirtualBench bench) {
    for (int scan = 0; scan < 40; scan++) {
      bench.runScan();
    }
  }

  @Test
  void stopsAfterTheFirstPulseThroughShortedTurnsUntilAPersonHasSeenToThem() {
    Batch batch = rods(1).with(usual());
    try (VirtualBench bench = Benches.bench(batch, SEED, turns(0.7))) {
      BatchJob.Attention asked = toAttention(bench);
      settle(bench);

      // A sixth of the turns gone: 0.7 is 0.837 squared, and so is the copper's resistance.
      assertThat(asked.why()).matches("the rod coil carried (19|20) % more current.*");
      assertThat(SaidForms.ofTheBundle().unknown(asked.sentence())).isEmpty();
      assertThat(bench.scan().snapshot().trip()).isEmpty();
      assertThat(delivered(bench)).isEqualTo(1);
      assertThat(all(bench, LedgerEvent.VerdictGiven.class))
          .extracting(LedgerEvent.VerdictGiven::verdict, LedgerEvent.VerdictGiven::why)
          .containsExactly(tuple("tripped", asked.why()));

      // The operator says "go on" without mending anything: the next pulse is the last again.
      while (bench.job() instanceof BatchJob.Attention) {
        bench.runScan();
      }
      BatchJob.Attention again = toAttention(bench);
      settle(bench);
      assertThat(again.why()).matches("the rod coil still carries (19|20) % more current.*");
      assertThat(SaidForms.ofTheBundle().unknown(again.sentence())).isEmpty();
      assertThat(delivered(bench)).isEqualTo(2);

      // Twice seen to, this is the coil that the rig has.
      Benches.toTheEnd(bench);
      assertThat(all(bench, LedgerEvent.CoilSeenTo.class))
          .hasSize(2)
          .allSatisfy(
              seen -> {
                assertThat(seen.coil()).isEqualTo("rod coil");
                assertThat(seen.full()).isTrue();
                assertThat(seen.offPartsPerMillion()).isBetween(185_000L, 205_000L);
              });
    }
  }

  @Test
  void asksAgainAfterARestartOfTheProgram() {
    MemoryStore store = Benches.emptyLedger();
    PlanRow row = Benches.rod("rod", PoleUp.SOUTH, Benches.level(-650, 12), 6);
    Batch begun = Benches.batch(PlannerMode.CURVE, row);
    FaultPlan late = FaultPlan.NONE.with(new Fault.TurnsShorted(0.7), 100_000_000_000L);
    try (VirtualBench bench = Benches.started(Benches.RIG, store, begun, SEED, late)) {
      toAttention(bench);
      settle(bench);
      assertThat(all(bench, ActEvent.PulseEnded.class)).hasSizeGreaterThan(UsualCurrents.ENOUGH);
    }
    Batch left =
        Benches.leftOpen(store, row)
            .orElseThrow()
            .with(RigMemory.none().with(WearOnRecord.of(store, Benches.RIG)));
    try (VirtualBench bench = Benches.started(store, left, SEED)) {
      BatchJob.Attention asked = toAttention(bench);
      assertThat(asked.why()).contains("more current than it used to");
      assertThat(bench.scan().snapshot().view().driven()).isEqualTo(Outputs.ALL_LOW);
      // The coil is sound again, so one look is enough and what was usual still is.
      Benches.toTheEnd(bench);
      assertThat(all(bench, LedgerEvent.CoilSeenTo.class)).hasSize(1);
    }
  }

  @Test
  void worksOnThroughACoilThatOnlyDrifts() {
    try (VirtualBench bench = Benches.bench(rods(1).with(usual()), SEED, turns(0.9))) {
      Benches.toTheEnd(bench);
      assertThat(bench.job().batch().memory().wear().coils().off()).isEmpty();
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
