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
import lodestep.port.GaugeEvent;
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
    checks(archive, now, facts);
    newest(archive, LedgerEvent.HeadSeen.class)
        .ifPresent(entry -> facts.add(new Fact("head", head(entry, now))));
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

  /** By nest, as it stands: what no reference was read in lately proves nothing. */
  private static void checks(LedgerArchive archive, Instant now, List<Fact> facts) {
    List<LedgerEntry> judged = new ArrayList<>();
    archive.forEachOfKind(
        EventCodec.kind(GaugeEvent.GaugeJudged.class),
        stored -> {
          LedgerEntry entry = EventCodec.decode(stored);
          judged.removeIf(older -> nest(older).equals(nest(entry)));
          judged.add(entry);
        });
    for (LedgerEntry entry : judged) {
      GaugeEvent.GaugeJudged check = (GaugeEvent.GaugeJudged) entry.event();
      String words =
          String.format(
              Locale.ROOT,
              "%s: %s, by %s, %s before now",
              check.nest(),
              check.inControl() ? "in control" : "out of control",
              check.reference(),
              ago(entry, now));
      facts.add(new Fact("gauge check", words));
    }
  }

  private static String nest(LedgerEntry entry) {
    return ((GaugeEvent.GaugeJudged) entry.event()).nest();
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

  private static String head(LedgerEntry entry, Instant now) {
    LedgerEvent.HeadSeen seen = (LedgerEvent.HeadSeen) entry.event();
    return String.format(
        Locale.ROOT,
        "%s, firmware %s, said who it is %s before now; %s",
        seen.serialNumber(),
        seen.firmwareVersion(),
        ago(entry, now),
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
