package lodestep.app;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.panel.Bench.Fact;
import lodestep.port.ActEvent;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.StoredEvent;
import lodestep.quantity.TimeSpan;

/** What the record says of the rig itself: its proofs with their age, and how often it worked. */
final class PageFacts {

  private PageFacts() {}

  /**
   * In pairs of a word and a sentence.
   *
   * @param now by the wall clock of the rig
   */
  static List<Fact> of(LedgerArchive archive, Instant now) {
    List<Fact> facts = new ArrayList<>();
    newest(archive, LedgerEvent.BankProven.class)
        .ifPresent(entry -> facts.add(new Fact("bank proof on record", proven(entry, now))));
    newest(archive, LedgerEvent.HeadSeen.class)
        .ifPresent(entry -> facts.add(new Fact("head", head(entry))));
    long pulses = count(archive, ActEvent.PulseIntended.class);
    if (pulses > 0) {
      facts.add(
          new Fact(
              "contacts",
              String.format(
                  Locale.ROOT,
                  "%,d pulses on record: as often have the contacts on the way to the coil worked",
                  pulses)));
    }
    newest(archive, LedgerEvent.Tripped.class)
        .ifPresent(
            entry ->
                facts.add(
                    new Fact(
                        "trips",
                        String.format(
                            Locale.ROOT,
                            "%,d on record, the newest %s before now: %s",
                            count(archive, LedgerEvent.Tripped.class),
                            ago(entry, now),
                            ((LedgerEvent.Tripped) entry.event()).cause()))));
    return List.copyOf(facts);
  }

  private static String proven(LedgerEntry entry, Instant now) {
    LedgerEvent.BankProven proof = (LedgerEvent.BankProven) entry.event();
    return String.format(
        Locale.ROOT,
        "%s before now, with %.1f V: fill contact opened, switch blocked, bleed brought it to"
            + " %.1f V in %.1f s",
        ago(entry, now),
        proof.filledMilliVolts() * 1e-3,
        proof.bledMilliVolts() * 1e-3,
        proof.bledMicros() * 1e-6);
  }

  private static String head(LedgerEntry entry) {
    LedgerEvent.HeadSeen seen = (LedgerEvent.HeadSeen) entry.event();
    return String.format(
        Locale.ROOT,
        "%s, firmware %s; %s",
        seen.serialNumber(),
        seen.firmwareVersion(),
        seen.watchdogProven()
            ? "its watchdog was proven as it started"
            : "its watchdog is not proven");
  }

  private static String ago(LedgerEntry entry, Instant now) {
    double seconds = Duration.between(entry.wall(), now).toMillis() * 1e-3;
    return new TimeSpan(Math.min(TimeSpan.LIMIT_SECONDS, Math.max(1, seconds))).written();
  }

  private static long count(LedgerArchive archive, Class<? extends LedgerEvent> kind) {
    long[] found = {0};
    archive.forEachOfKind(EventCodec.kind(kind), stored -> found[0]++);
    return found[0];
  }

  private static Optional<LedgerEntry> newest(
      LedgerArchive archive, Class<? extends LedgerEvent> kind) {
    List<StoredEvent> last = new ArrayList<>();
    archive.forEachOfKind(
        EventCodec.kind(kind),
        stored -> {
          last.clear();
          last.add(stored);
        });
    return last.stream().findFirst().map(EventCodec::decode);
  }
}
