package lodestep.paper;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.bench.HandGauges;
import lodestep.config.RigKind;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.Pickup;
import lodestep.paper.Things.Thing;
import lodestep.port.ChainEnd;
import lodestep.port.Sheet;
import lodestep.port.Stickers;
import lodestep.port.StockEvent.CertificateIssued;
import lodestep.port.StoredEvent;

/**
 * What is handed over on paper, of this rig and by this version. Every refusal is an {@link
 * IllegalArgumentException} with one sentence. Any thread, immutable.
 *
 * @param rig its name
 */
public record Papers(String rig, RigKind kind, String version) {

  /** By whose gauge levels are told. */
  @FunctionalInterface
  public interface ToldBy {

    /** The rig's own. */
    ToldBy RIG = (things, levels) -> Optional.empty();

    /** The gauge with its relation to each magnet's nest; empty for the rig's own. */
    Optional<ByHandGauge> of(Things things, List<Certificate.Level> levels);

    /** A hand gauge, as it is spelled on record. */
    static ToldBy hand(String asked) {
      return (things, levels) -> {
        HandGauges known = known(things);
        String gauge =
            known.names().stream().filter(asked::equalsIgnoreCase).findFirst().orElse(asked);
        return Optional.of(
            new ByHandGauge(
                gauge,
                levels.stream()
                    .map(
                        level ->
                            known.relation(
                                gauge, level.history().identity(), level.standOffMicroMetres()))
                    .toList()));
      };
    }
  }

  private static HandGauges known(Things things) {
    return HandGauges.of(things.gaugeRecord(), Long.MAX_VALUE);
  }

  /**
   * A certificate with the entry that it stands for.
   *
   * @param wall when it was made out
   * @param again how it was printed once more, if it was
   */
  public record Printed(
      Certificate certificate, ChainEnd issued, Instant wall, Optional<Certificate.Again> again) {

    /** The first print, if it says the same word for word. */
    public Printed first() {
      boolean alike = again.map(Certificate.Again::alike).orElse(true);
      return alike ? new Printed(certificate, issued, wall, Optional.empty()) : this;
    }

    /** The sheet. */
    public Sheet sheet() {
      return certificate.sheet(issued, wall, again);
    }
  }

  /** The thing of this name. */
  public static Thing found(Things things, String name) {
    return things.find(name).orElseThrow(() -> unknown(things, name));
  }

  /** That there is no such thing, with the names that are nearest. */
  public static IllegalArgumentException unknown(Things things, String name) {
    List<String> nearest = things.nearest(name);
    return new IllegalArgumentException(
        nearest.isEmpty()
            ? "nothing is on record yet"
            : "no pickup, set or magnet '"
                + name
                + "' is on record; the nearest names are "
                + String.join(", ", nearest));
  }

  /** The magnets of a thing. */
  public static List<Long> magnets(Thing thing) {
    if (thing instanceof Thing.OfPickup of) {
      return of.pickup().built().magnets();
    }
    return thing instanceof Thing.OfSet set
        ? set.magnets()
        : List.of(((Thing.OfMagnet) thing).magnet());
  }

  /** Whom a paper is about. */
  public Certificate.Subject subject(Thing thing) {
    return new Certificate.Subject(thing.kind(), thing.name(), rig, kind, version);
  }

  /** A certificate that is not made out yet. */
  public Certificate certificate(Things things, Thing thing, ToldBy by) {
    List<Certificate.Level> levels = things.levels(magnets(thing));
    Optional<Pickup> pickup =
        thing instanceof Thing.OfPickup of ? Optional.of(of.pickup()) : Optional.empty();
    boolean read = pickup.stream().flatMap(one -> one.rounds().stream()).findAny().isPresent();
    if (levels.isEmpty() && !read) {
      throw new IllegalArgumentException(
          "nothing was read of " + thing.name() + " yet; read its pole tops: lodestep pickup read");
    }
    return new Certificate(
        subject(thing), levels, pickup, things.gauge(levels, pickup), by.of(things, levels));
  }

  /** The certificate of this entry once more, as it was. */
  public Printed again(Things things, long number) {
    StoredEvent stored =
        things
            .entry(number)
            .filter(entry -> EventCodec.decode(entry).event() instanceof CertificateIssued)
            .orElseThrow(
                () -> new IllegalArgumentException("entry " + number + " is no certificate"));
    LedgerEntry entry = EventCodec.decode(stored);
    CertificateIssued then = (CertificateIssued) entry.event();
    List<Certificate> all = told(things.asOf(number), then.of());
    Optional<Certificate> alike =
        all.stream()
            .filter(each -> each.entry().contentSha256().equals(then.contentSha256()))
            .findFirst();
    return new Printed(
        alike.orElse(all.get(0)),
        stored.end(),
        entry.wall(),
        Optional.of(new Certificate.Again(alike.isPresent())));
  }

  /** What a certificate can have said: by the rig's own gauge, or by one of the hand gauges. */
  private List<Certificate> told(Things things, String name) {
    Thing thing = found(things, name);
    List<Certificate> all = new ArrayList<>();
    all.add(certificate(things, thing, ToldBy.RIG));
    for (String gauge : known(things).names()) {
      try {
        all.add(certificate(things, thing, ToldBy.hand(gauge)));
      } catch (IllegalArgumentException notOfThisKind) {
        // Then it was not told by this gauge either.
      }
    }
    return all;
  }

  /** Labels for the trays of sets and magnets, and for the baseplates of pickups. */
  public Stickers labels(Things things, List<String> names, ToldBy by) {
    Stickers all = new Stickers(Optional.empty(), List.of());
    for (String name : names) {
      Thing thing = found(things, name);
      all =
          all.with(
              thing instanceof Thing.OfPickup of
                  ? LabelsFor.baseplate(of.pickup(), kind)
                  : trays(things, things.levels(magnets(thing)), by));
    }
    return all;
  }

  private Stickers trays(Things things, List<Certificate.Level> levels, ToldBy by) {
    return LabelsFor.trays(levels, by.of(things, levels), kind);
  }

  /** A name that every file system takes. */
  public static String fileName(String what, String name) {
    return what + "-" + name.strip().replaceAll("[^\\p{L}\\p{N}._-]+", "-") + ".pdf";
  }
}
