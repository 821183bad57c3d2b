package lodestep.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.paper.Certificate;
import lodestep.paper.Papers;
import lodestep.paper.Papers.Printed;
import lodestep.paper.Things;
import lodestep.port.ChainEnd;
import lodestep.port.Stickers;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** What is handed over on paper. */
final class CertificateCommands {

  private CertificateCommands() {}

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

    Papers.ToldBy by() {
      return gauge == null ? Papers.ToldBy.RIG : Papers.ToldBy.hand(gauge.strip());
    }
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
            record.read(
                desk,
                things ->
                    record
                        .papers(desk)
                        .certificate(things, Papers.found(things, asked), toldBy.by()));
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

    private Printed printed(Things things, long number) {
      try {
        return record.papers(desk).again(things, number);
      } catch (IllegalArgumentException wrong) {
        throw new Refusal(
            "--again: "
                + wrong.getMessage()
                + "; they are found with: lodestep history rig --what certificate");
      }
    }

    private void print(Printed printed) {
      Certificate certificate = printed.certificate();
      ChainEnd issued = printed.issued();
      Path file =
          pdf == null ? Path.of(Papers.fileName("certificate", certificate.subject().name())) : pdf;
      desk.program().papers().write(printed.sheet(), file);
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
      Stickers stickers =
          record.read(desk, things -> record.papers(desk).labels(things, names, toldBy.by()));
      desk.program().papers().write(stickers, pdf);
      desk.print(List.of(stickers.all().size() + " labels: " + pdf));
      return Desk.DONE;
    }
  }
}
