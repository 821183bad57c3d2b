package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.config.RigReading;
import lodestep.config.ShippedRig;
import lodestep.device.BankLeft;
import lodestep.device.UsualCurrents;
import lodestep.ledger.Chain;
import lodestep.ledger.MemoryStore;
import lodestep.magnet.PulseCircuit;
import lodestep.port.ActEvent;
import lodestep.port.Bytes;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import lodestep.quantity.Voltage;
import org.junit.jupiter.api.Test;

/** Goal: the wear of the rig's parts is told from its record, whichever program wrote it. */
class WearOnRecordTest {

  private static final Instant OLD = Instant.parse("2026-11-01T23:00:00Z");
  private static final Instant NEW = Instant.parse("2026-11-02T06:00:00Z");

  private static final RigConfig RIG = ShippedRig.read("rig-virtual.toml");

  private final List<EventDraft> drafts = new ArrayList<>();

  /** Proofs that took this long to half, in microseconds. */
  private void proofs(int count, long halfMicros, Instant at) {
    for (int i = 0; i < count; i++) {
      drafts.add(
          new EventDraft(
              new LedgerEvent.BankProven(1, 6_000, 6_000, 120_000, 2, 3_000, halfMicros), i, at));
    }
  }

  private BankLeft left(String newSince) {
    MemoryStore store = new MemoryStore();
    store.commit(Chain.link(store.newest(), drafts));
    BankConfig bank =
        new BankConfig(22e-3, new Voltage(48), new Voltage(50), 47, 2000, 22, newSince);
    return WearOnRecord.bank(store, bank);
  }

  @Test
  void tellsWhatTheBankHasLostByItsProofs() {
    proofs(20, 340_000, OLD);
    proofs(5, 300_000, NEW);

    assertThat(left("").part().orElseThrow()).isCloseTo(300 / 340.0, within(1e-9));
    assertThat(left("").lost()).isTrue();
  }

  private void add(LedgerEvent event) {
    drafts.add(new EventDraft(event, drafts.size(), NEW));
  }

  /** A program that starts on this rig's file. */
  private void started(RigConfig rig) {
    String sha = Chain.sha256(Bytes.ofUtf8(rig.text())).toString();
    add(new LedgerEvent.ProgramStarted("test", sha, "", false));
    add(new LedgerEvent.RigDescribed(sha, rig.text()));
  }

  /** Charges by the rod coil at 40 V and 20 °C, each with this part of what rig.toml makes. */
  private void charges(int count, double part) {
    CoilConfig coil = RIG.coil("rod coil");
    double amps =
        40
            * new PulseCircuit(coil.resistanceOhms(), coil.inductanceHenries(), 22e-3)
                .peakAmpsPerVolt();
    for (int i = 0; i < count; i++) {
      add(
          new ActEvent.PulseIntended(
              4, 1, 1, "charge", true, true, 40_000, 40_100, 300_000, 400_000, "rod coil"));
      long intent = drafts.size();
      long peak = Math.round(part * amps * 1e3);
      add(
          new ActEvent.PulseEnded(
              intent, 4, "delivered", 9, 77, 40_000, 900, peak, 0, 30_000, 2_000, ""));
    }
  }

  private UsualCurrents coils(RigConfig rig) {
    MemoryStore store = new MemoryStore();
    store.commit(Chain.link(store.newest(), drafts));
    return WearOnRecord.of(store, rig).coils();
  }

  private static RigConfig told(String text) {
    return ((RigReading.Rig) RigFile.read("rig.toml", text)).config();
  }

  @Test
  void findsACoilThatCarriedMoreThanItUsedToWhateverProgramFiredIt() {
    started(RIG);
    charges(3, 0.95);
    started(RIG);
    charges(3, 0.95);
    assertThat(coils(RIG).off()).isEmpty();
    charges(1, 1.10);
    assertThat(coils(RIG).sentence().orElseThrow())
        .startsWith("the rod coil carried 16 % more current");
    // A restart clears nothing; neither does "go on" that was said of something else.
    started(RIG);
    add(new LedgerEvent.PersonAsked("continue"));
    assertThat(coils(RIG).off()).isPresent();
  }

  @Test
  void takesTheCoilForSeenToOncePersonsWordIsOnRecord() {
    started(RIG);
    charges(5, 0.95);
    charges(1, 1.10);
    add(new LedgerEvent.CoilSeenTo("rod coil", true, 157_895));
    assertThat(coils(RIG).off()).isEmpty();
    charges(1, 1.10);
    assertThat(coils(RIG).off().orElseThrow().still()).isTrue();
  }

  @Test
  void beginsAnewWithACoilWhoseFiguresWereChanged() {
    started(RIG);
    charges(5, 0.95);
    charges(1, 1.10);
    RigConfig wound = told(RIG.text().replace("\"0.30 Ω\"", "\"0.28 Ω\""));
    assertThat(coils(wound)).isEqualTo(UsualCurrents.UNKNOWN);
    RigConfig renamed = told(RIG.text().replace("\"rod coil\"", "\"new coil\""));
    assertThat(coils(renamed)).isEqualTo(UsualCurrents.UNKNOWN);
  }

  @Test
  void goesOnWithWhatIsUsualWhenOnlyAnotherPartOfTheRigWasChanged() {
    started(RIG);
    charges(5, 0.95);
    RigConfig nest = told(RIG.text().replace("\"2.0 mm\"", "\"2.5 mm\""));
    started(nest);
    charges(1, 1.10);
    assertThat(coils(nest).off()).isPresent();
  }

  @Test
  void beginsAnewFromTheDayOnWhichTheCapacitorsWerePutIn() {
    proofs(20, 340_000, OLD);
    proofs(5, 300_000, NEW);

    assertThat(left("2026-11-02").part()).isEmpty();
    assertThat(left("2026-11-02").proofs()).isEqualTo(5);
    assertThat(left("2026-11-02").lost()).isFalse();
  }
}
