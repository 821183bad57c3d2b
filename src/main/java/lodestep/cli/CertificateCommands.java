package lodestep.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BiFunction;
import lodestep.bench.HandGauges;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.Pickup;
import lodestep.paper.ByHandGauge;
import lodestep.paper.Certificate;
import lodestep.paper.LabelsFor;
import lodestep.paper.Things;
import lodestep.paper.Things.Thing;
import lodestep.port.ChainEnd;
import lodestep.port.Stickers;
import lodestep.port.StockEvent.CertificateIssued;
import lodestep.port.StoredEvent;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** What is handed over on paper. */
final class CertificateCommands {

  private CertificateCommands() {}

  private static List<Long> magnets(Thing thing) {
    if (thing instanceof Thing.OfPickup of) {
      return of.pickup().built().magnets();
    }
    return thing instanceof Thing.OfSet set
        ? set.magnets()
        : List.of(((Thing.OfMagnet) thing).magnet());
  }

  /** By whose gauge levels are told. Filled by the command line. */
  static final class ToldBy {
    @Option(
        names = "--told-by",
        paramLabel = "GAUGE",
        description = "levels as this hand gauge reads them, by its relation on record")
    private @Nullable String gauge;

    boolean isSaid() {
      return gauge != null;
    }

    /** The gauge asked for, with its relation to each magnet's nest; empty for the rig's own. */
    Optional<ByHandGauge> of(Things things, List<Certificate.Level> levels) {
      return Optional.ofNullable(gauge).map(asked -> by(asked.strip(), things, levels));
    }

    /**
     * A gauge, as it is spelled on record, with its relation to each magnet's nest.
     *
     * @throws IllegalArgumentException with one sentence, if a relation is not on record
     */
    static ByHandGauge by(String asked, Things things, List<Certificate.Level> levels) {
      HandGauges known = known(things);
      String gauge =
          known.names().stream().filter(asked::equalsIgnoreCase).findFirst().orElse(asked);
      return new ByHandGauge(
          gauge,
          levels.stream()
              .map(
                  level ->
                      known.relation(
                          gauge, level.history().identity(), level.standOffMicroMetres()))
              .toList());
    }

    static HandGauges known(Things things) {
      return HandGauges.of(things.gaugeRecord(), Long.MAX_VALUE);
    }
  }

  private static Optional<Pickup> pickup(Thing thing) {
    return thing instanceof Thing.OfPickup of ? Optional.of(of.pickup()) : Optional.empty();
  }

  @Command(
      name = "certificate",
      description = "Makes out a certificate of a pickup, a set or a magnet, as PDF.",
      footer = {
        "",
        "It tells each level with its pole and uncertainty, where and with which gauge",
        "it was read, how it came down, and the entry and hash at which the record",
        "stood: with these, lodestep prove --noted sees whether it was changed since.",
        "",
        "Examples: lodestep certificate split",
        "          lodestep certificate \"Plover 12\" --pdf plover-12.pdf",
        "          lodestep certificate --again 316"
      })
  static final class OfThing extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "NAME", arity = "0..1", description = "a pickup, a set or a magnet")
    private @Nullable String name;

    @Mixin private RecordOf record = new RecordOf();
    @Mixin private ToldBy toldBy = new ToldBy();

    @Option(
        names = "--pdf",
        paramLabel = "FILE",
        description = "where to; certificate-NAME.pdf if left out")
    private @Nullable Path pdf;

    @Option(
        names = "--again",
        paramLabel = "NUMBER",
        description = "prints the certificate of this number once more, as it was")
    private @Nullable Long again;

    @Option(names = "--json", description = "what was made out, as JSON")
    private boolean json;

    OfThing(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      if ((name == null) == (again == null) || (again != null && toldBy.isSaid())) {
        throw new Refusal("name a pickup, a set or a magnet; or say --again NUMBER alone");
      }
      if (again != null) {
        long number = again;
        print(record.read(desk, things -> printed(things, number)));
      } else if (name != null) {
        String asked = name;
        Certificate certificate =
            record.read(desk, things -> certificate(things, asked, toldBy::of));
        ChainEnd issued =
            desk.program()
                .papers()
                .keep(
                    record.rig(desk),
                    record.ledger(desk),
                    certificate.entry(),
                    "the certificate is made out");
        Instant wall = record.read(desk, things -> things.wall(issued.number()));
        print(new Printed(certificate, issued, wall, Optional.empty()));
      }
      return Desk.DONE;
    }

    private record Printed(
        Certificate certificate,
        ChainEnd issued,
        Instant wall,
        Optional<Certificate.Again> again) {}

    private Printed printed(Things things, long number) {
      StoredEvent stored =
          things
              .entry(number)
              .filter(entry -> EventCodec.decode(entry).event() instanceof CertificateIssued)
              .orElseThrow(
                  () ->
                      new Refusal(
                          "--again: entry "
                              + number
                              + " is no certificate; they are found with: lodestep history rig"
                              + " --what certificate"));
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
      List<Certificate> all = new ArrayList<>();
      all.add(certificate(things, name, (then, levels) -> Optional.empty()));
      for (String gauge : ToldBy.known(things).names()) {
        try {
          all.add(
              certificate(
                  things, name, (then, levels) -> Optional.of(ToldBy.by(gauge, then, levels))));
        } catch (IllegalArgumentException notOfThisKind) {
          // Then it was not told by this gauge either.
        }
      }
      return all;
    }

    private void print(Printed printed) {
      Certificate certificate = printed.certificate();
      ChainEnd issued = printed.issued();
      Path file =
          pdf == null ? Path.of(fileName("certificate", certificate.subject().name())) : pdf;
      desk.program()
          .papers()
          .write(certificate.sheet(issued, printed.wall(), printed.again()), file);
      if (json) {
        ObjectNode node = Json.object();
        node.put("certificate", issued.number());
        node.put("hash", issued.hash().toString());
        node.put("of", certificate.subject().name());
        node.put("kind", certificate.subject().kind());
        node.put("rigKind", certificate.subject().rigKind().word());
        node.put("magnets", certificate.magnets().size());
        certificate.by().ifPresent(by -> node.put("toldBy", by.gauge()));
        node.put("file", file.toString());
        printed.again().ifPresent(once -> node.put("alike", once.alike()));
        desk.print(node);
      } else {
        desk.print(words(printed, file));
      }
    }

    private static List<String> words(Printed printed, Path file) {
      List<String> lines = new ArrayList<>();
      lines.add(
          "Certificate "
              + printed.issued().number()
              + " of "
              + printed.certificate().subject().kind()
              + " "
              + printed.certificate().subject().name()
              + ": "
              + file);
      lines.add("Its hash is " + printed.issued().hash());
      printed.again().ifPresent(once -> lines.add("Printed again, " + once.words()));
      return lines;
    }

    private Certificate certificate(
        Things things,
        String name,
        BiFunction<Things, List<Certificate.Level>, Optional<ByHandGauge>> by) {
      Thing thing = RecordOf.found(things, name);
      List<Certificate.Level> levels = things.levels(magnets(thing));
      Optional<Pickup> pickup = pickup(thing);
      boolean read = pickup.stream().flatMap(one -> one.rounds().stream()).findAny().isPresent();
      if (levels.isEmpty() && !read) {
        throw new Refusal(
            "nothing was read of "
                + thing.name()
                + " yet; read its pole tops: lodestep pickup read");
      }
      return new Certificate(
          record.subject(desk, thing),
          levels,
          pickup,
          things.gauge(levels, pickup),
          by.apply(things, levels));
    }
  }

  @Command(
      name = "labels",
      description = "Prints labels for trays (a set, a magnet) or a baseplate (a pickup), as PDF.",
      footer = {
        "",
        "Each has a square code with the number by which the record knows it.",
        "",
        "Example: lodestep labels split --pdf labels.pdf"
      })
  static final class OfLabels extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "NAME", arity = "1..*", description = "pickups, sets or magnets")
    private List<String> names = List.of();

    @Mixin private RecordOf record = new RecordOf();
    @Mixin private ToldBy toldBy = new ToldBy();

    @Option(names = "--pdf", paramLabel = "FILE", description = "where to; labels.pdf if left out")
    private Path pdf = Path.of("labels.pdf");

    OfLabels(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      Stickers stickers = record.read(desk, this::stickers);
      desk.program().papers().write(stickers, pdf);
      desk.print(List.of(stickers.all().size() + " labels: " + pdf));
      return Desk.DONE;
    }

    private Stickers stickers(Things things) {
      Stickers all = new Stickers(Optional.empty(), List.of());
      for (String name : names) {
        Thing thing = RecordOf.found(things, name);
        all =
            all.with(
                thing instanceof Thing.OfPickup of
                    ? LabelsFor.baseplate(of.pickup(), record.rig(desk).kind())
                    : trays(things, things.levels(magnets(thing))));
      }
      return all;
    }

    private Stickers trays(Things things, List<Certificate.Level> levels) {
      return LabelsFor.trays(levels, toldBy.of(things, levels), record.rig(desk).kind());
    }
  }

  /** A name that every file system takes. */
  static String fileName(String what, String name) {
    return what + "-" + name.strip().replaceAll("[^\\p{L}\\p{N}._-]+", "-") + ".pdf";
  }
}
