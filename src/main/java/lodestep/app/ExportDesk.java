package lodestep.app;

import java.io.BufferedOutputStream;
import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.SortedSet;
import java.util.function.BiConsumer;
import lodestep.adapter.file.WholeFiles;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.adapter.sqlite.SqliteKeeper;
import lodestep.cli.ExportWork;
import lodestep.cli.Refusal;
import lodestep.ledger.EventCodec;
import lodestep.ledger.ExportHead;
import lodestep.ledger.ExportReading;
import lodestep.ledger.ExportWriting;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.MagnetPart;
import lodestep.port.Bytes;
import lodestep.port.ChainEnd;
import lodestep.port.Hash;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent.LedgerCreated;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;

/** Writes exports of a ledger, reads them back, and makes ledgers of whole ones. */
final class ExportDesk implements ExportWork {

  /** A plan of the largest size is far smaller; a longer line is no event. */
  private static final int LINE_MAX = 16_000_000;

  private static final int BLOCK_BYTES = 1 << 16;

  /** Of a whole ledger every so many events are held against another one's. */
  private static final long ANCHOR_EACH = 1_000;

  private final Instant now;

  ExportDesk(Instant now) {
    this.now = now.truncatedTo(ChronoUnit.SECONDS);
  }

  @Override
  public Exported export(Path ledgerFile, Optional<Part> part, Path to) {
    LedgerFiles.require(ledgerFile);
    if (Files.exists(to)) {
      throw new Refusal("there is a file " + to + " already; name another");
    }
    return KeepDesk.said(() -> written(ledgerFile, part, to));
  }

  private Exported written(Path ledgerFile, Optional<Part> part, Path to) {
    try (LedgerArchive archive = SqliteArchive.open(ledgerFile)) {
      Path unfinished = WholeFiles.unfinished(to);
      try {
        ExportHead head = head(archive, part);
        long events = 0;
        try (OutputStream out =
            new BufferedOutputStream(
                Files.newOutputStream(unfinished, StandardOpenOption.CREATE_NEW))) {
          events = write(archive, head, out);
        }
        WholeFiles.force(unfinished);
        WholeFiles.rename(unfinished, to);
        return new Exported(to, head, events);
      } catch (IllegalArgumentException notWhole) {
        throw new Refusal(
            "the ledger "
                + ledgerFile
                + " is not whole, so nothing was exported ("
                + notWhole.getMessage()
                + ")");
      } finally {
        WholeFiles.delete(unfinished);
      }
    } catch (UncheckedIOException failed) {
      throw unwritten(to, Objects.requireNonNullElseGet(failed.getCause(), IOException::new));
    } catch (IOException failed) {
      throw unwritten(to, failed);
    }
  }

  private static Refusal unwritten(Path to, IOException failed) {
    return new Refusal("the export " + to + " cannot be written: " + WholeFiles.why(failed));
  }

  private ExportHead head(LedgerArchive archive, Optional<Part> part) {
    StoredEvent first = one(archive, 1);
    if (!(EventCodec.decode(first).event() instanceof LedgerCreated created)) {
      throw new IllegalArgumentException("event 1: it creates no ledger");
    }
    long magnet = part.map(Part::magnet).orElse(0L);
    String name =
        magnet > 0 && EventCodec.decode(one(archive, magnet)).event() instanceof MagnetNamed named
            ? named.name()
            : "";
    return new ExportHead(
        created.rig(),
        created.rigKind(),
        first.hash(),
        archive.newest(),
        magnet,
        name,
        part.map(Part::unbroken).orElse(true),
        now,
        Main.version());
  }

  private static StoredEvent one(LedgerArchive archive, long number) {
    List<StoredEvent> found = new ArrayList<>();
    archive.forEach(number, number, found::add);
    if (found.isEmpty()) {
      throw new IllegalArgumentException("event " + number + ": it is missing");
    }
    return found.get(0);
  }

  private static long write(LedgerArchive archive, ExportHead head, OutputStream out) {
    ExportWriting writing = new ExportWriting(head, bytes -> write(out, bytes));
    long[] events = {0};
    if (head.whole()) {
      archive.forEach(
          Long.MIN_VALUE,
          head.end().number(),
          event -> {
            writing.accept(event);
            events[0]++;
          });
    } else {
      SortedSet<Long> numbers = MagnetPart.numbers(archive, head.magnet(), head.unbroken());
      long last = 0;
      for (long number : numbers) {
        if (number != last + 1) {
          writing.before(one(archive, number - 1).end());
        }
        writing.accept(one(archive, number));
        last = number;
        events[0]++;
      }
    }
    writing.end();
    return events[0];
  }

  private static void write(OutputStream out, Bytes bytes) {
    try {
      out.write(bytes.toArray());
    } catch (IOException failed) {
      throw new UncheckedIOException(failed);
    }
  }

  @Override
  public Imported look(Path export) {
    List<LedgerEntry> entries = new ArrayList<>();
    Read read =
        read(
            export,
            (head, event) -> {
              if (!head.whole()) {
                entries.add(EventCodec.decode(event));
              }
            });
    return new Imported(read.head(), read.events(), entries);
  }

  /** An export that was read. */
  private record Read(ExportHead head, long events) {}

  private static Read read(Path export, BiConsumer<ExportHead, StoredEvent> each) {
    ExportReading reading = new ExportReading(each);
    try (InputStream in = Files.newInputStream(export)) {
      lines(in, reading);
      return new Read(reading.finished(), reading.events());
    } catch (IllegalArgumentException wrong) {
      throw new Refusal("the export " + export + " is not as it was made: " + wrong.getMessage());
    } catch (IOException unreadable) {
      throw new Refusal("the export " + export + " cannot be read: " + WholeFiles.why(unreadable));
    }
  }

  private static void lines(InputStream in, ExportReading reading) throws IOException {
    ByteArrayOutputStream line = new ByteArrayOutputStream();
    byte[] block = new byte[BLOCK_BYTES];
    for (int size = in.read(block); size >= 0; size = in.read(block)) {
      int from = 0;
      for (int at = 0; at < size; at++) {
        if (block[at] == '\n') {
          line.write(block, from, at - from);
          reading.accept(Bytes.copyOf(line.toByteArray()));
          line.reset();
          from = at + 1;
        }
      }
      line.write(block, from, size - from);
      if (line.size() > LINE_MAX) {
        throw new IllegalArgumentException("a line is longer than any event");
      }
    }
    if (line.size() > 0) {
      throw new IllegalArgumentException("its last line has no end; it was cut off");
    }
  }

  @Override
  public Imported make(Path export, Path ledgerFile) {
    if (Files.exists(ledgerFile)) {
      throw new Refusal("there is a file " + ledgerFile + " already; name a new one");
    }
    refusePart(export);
    return KeepDesk.said(() -> made(export, ledgerFile));
  }

  /** Before anything is made: that it is of one magnet stands in its first line. */
  private static void refusePart(Path export) {
    try (BufferedReader reader = Files.newBufferedReader(export)) {
      String first = reader.readLine();
      if (first != null && !ExportHead.read(Bytes.ofUtf8(first)).whole()) {
        throw new Refusal(
            "the export is of one magnet, which is no ledger; look at it without --ledger");
      }
    } catch (IllegalArgumentException | IOException unreadable) {
      // Told, with the place, by whoever reads all of it.
      return;
    }
  }

  private static Imported made(Path export, Path ledgerFile) {
    Path folder = WholeFiles.folderOf(ledgerFile);
    try (SqliteKeeper.Place place =
        SqliteKeeper.Place.take(
            Files.createDirectories(folder).resolve(ledgerFile.getFileName()))) {
      Path unfinished = WholeFiles.unfinished(ledgerFile);
      try {
        List<Read> read = new ArrayList<>();
        SqliteKeeper.make(
            unfinished, each -> read.add(read(export, (head, event) -> each.accept(event))));
        place.put(unfinished, ledgerFile);
        return new Imported(read.get(0).head(), read.get(0).events(), List.of());
      } finally {
        WholeFiles.unfinished(ledgerFile);
      }
    } catch (IOException failed) {
      throw new LedgerException(
          "the ledger " + ledgerFile + " cannot be written: " + WholeFiles.why(failed), failed);
    }
  }

  /** The events of an export as anchors: all of a part, of a whole ledger enough to be named by. */
  static List<ChainEnd> anchors(Path export) {
    List<ChainEnd> anchors = new ArrayList<>();
    Read read =
        read(
            export,
            (head, event) -> {
              if (!head.whole() || event.number() % ANCHOR_EACH == 0) {
                anchors.add(event.end());
              }
            });
    anchors.add(read.head().end());
    return anchors;
  }

  /** Whether a file's first line is an export's. */
  static boolean isExport(Path file) throws IOException {
    byte[] begin = new byte[0];
    try (InputStream in = Files.newInputStream(file)) {
      begin = in.readNBytes(Hash.SIZE_BYTES);
    }
    return Bytes.copyOf(begin).utf8().startsWith("{\"firstHash\":");
  }
}
