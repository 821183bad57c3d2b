package lodestep.ledger;

import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import lodestep.config.RelayConfig;
import lodestep.port.ActEvent;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;

/**
 * How much of the life of the relays' contacts is used, by the record. Each pulse that was
 * intended, and each proof of the bank, works the relays on the way to the coil about once: those
 * of bank or feed each time, changeover and range at most as often. Any thread, immutable.
 *
 * @param relays what is known of them
 * @param worked how often they have worked since they were new
 */
public record ContactLife(RelayConfig relays, long worked) {

  /** From here on new ones should lie ready; common practice, no source. */
  public static final double NEARLY = 0.8;

  /** What the record tells of these relays; reads as long as there are pulses. */
  public static ContactLife of(LedgerArchive archive, RelayConfig relays) {
    long fromEpochMs =
        relays.newSince().isEmpty()
            ? Long.MIN_VALUE
            : LocalDate.parse(relays.newSince())
                .atStartOfDay(ZoneOffset.UTC)
                .toInstant()
                .toEpochMilli();
    long worked = 0;
    for (Class<? extends LedgerEvent> kind :
        List.of(
            ActEvent.PulseIntended.class,
            ActEvent.SwitchedPulseIntended.class,
            LedgerEvent.BankProven.class)) {
      worked += count(archive, kind, fromEpochMs);
    }
    return new ContactLife(relays, worked);
  }

  private static long count(
      LedgerArchive archive, Class<? extends LedgerEvent> kind, long fromEpochMs) {
    long[] found = {0};
    archive.forEachOfKind(
        EventCodec.kind(kind),
        stored -> {
          if (stored.index().wallEpochMs() >= fromEpochMs) {
            found[0]++;
          }
        });
    return found[0];
  }

  /** The part of it that is used; 0 where nobody has said how much there is. */
  public double part() {
    return relays.named() ? worked / (double) relays.operations() : 0;
  }

  /** Whether it is nearly over, or over. */
  public boolean nearlyOver() {
    return part() >= NEARLY;
  }

  /** Whether it is over. */
  public boolean over() {
    return part() >= 1;
  }

  /** The same in a sentence for a person, with what to do. */
  public String sentence() {
    String worked = said("the relays have worked about %,d times", this.worked) + since();
    if (!relays.named()) {
      return worked
          + "; how often they may is not said: put 'operations' into [relays] of rig.toml, from"
          + " their data sheet";
    }
    String used =
        worked
            + said(
                ", %.1f %% of the %,d that their data sheet expects",
                100 * part(), relays.operations());
    if (over()) {
      return used
          + "; they are used up: have them replaced, and write the day as 'new_since' into"
          + " [relays] of rig.toml";
    }
    return nearlyOver() ? used + "; nearly used up: have new ones at hand" : used;
  }

  private String since() {
    return relays.newSince().isEmpty() ? "" : " since " + relays.newSince();
  }

  private static String said(String format, Object... figures) {
    return String.format(Locale.ROOT, format, figures);
  }
}
