package lodestep.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.ledger.EventCodec;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.Pickup;
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
      if ((name == null) == (again == null)) {
        throw new Refusal("name a pickup, a set or a magnet; or say --again NUMBER alone");
      }
      if (again != null) {
        long number = again;
        print(record.read(desk, things -> printed(things, number)));
      } else if (name != null) {
        String asked = name;
        Certificate certificate = record.read(desk, things -> certificate(things, asked));
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
      Certificate certificate = certificate(things.asOf(number), then.of());
      boolean alike = certificate.entry().contentSha256().equals(then.contentSha256());
      return new Printed(
          certificate, stored.end(), entry.wall(), Optional.of(new Certificate.Again(alike)));
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

    private Certificate certificate(Things things, String name) {
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
          record.subject(desk, thing), levels, pickup, things.gauge(levels, pickup));
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
                    : LabelsFor.trays(things.levels(magnets(thing)), record.rig(desk).kind()));
      }
      return all;
    }
  }

  /** A name that every file system takes. */
  static String fileName(String what, String name) {
    return what + "-" + name.strip().replaceAll("[^\\p{L}\\p{N}._-]+", "-") + ".pdf";
  }
}
