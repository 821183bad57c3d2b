package lodestep.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.function.Consumer;
import lodestep.adapter.file.WholeFiles;
import lodestep.adapter.sqlite.BareInserts;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.adapter.sqlite.SqliteProof;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.cli.Program.Figure;
import lodestep.config.RigKind;
import lodestep.ledger.Chain;
import lodestep.ledger.DaySummary;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetNames;
import lodestep.ledger.Proof;
import lodestep.port.Bytes;
import lodestep.port.EventDraft;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.MonotonicClock;
import lodestep.port.StoredEvent;

/**
 * Measures the ledger on this machine, as it grows from ten thousand events by tens. The events are
 * those of {@link SyntheticRecord}; the file stands in a folder of its own, which is taken away.
 */
final class RecordFigures {

  private static final long FIRST_SIZE = 10_000;
  private static final int MAGNETS = 400;
  private static final int DAYS = 60;
  private static final int WARM_UPS = 100;
  private static final int ROUNDS = 12;
  private static final int COMMITS = 25;
  private static final int BLOCK = 10_000;
  private static final long DAY_MS = 86_400_000L;

  private final MonotonicClock clock;
  private final long largest;
  private final Consumer<String> progress;
  private final List<Figure> figures = new ArrayList<>();
  private final Random random = new Random(1);
  private final List<Long> magnets = new ArrayList<>();
  private final List<String> names = new ArrayList<>();
  private final List<Long> days = new ArrayList<>();
  private long pulses;

  RecordFigures(MonotonicClock clock, long largest, Consumer<String> progress) {
    this.clock = clock;
    this.largest = largest;
    this.progress = progress;
  }

  List<Figure> all() {
    try {
      Path folder = Files.createTempDirectory("lodestep-figures");
      try {
        Path ledger = folder.resolve("figures.ledger");
        SyntheticRecord record = new SyntheticRecord(1, 1);
        for (long size = FIRST_SIZE; size <= largest; size *= 10) {
          progress.accept(String.format(Locale.ROOT, "writing up to %,d events ...", size));
          write(ledger, record, size);
          progress.accept(String.format(Locale.ROOT, "measuring at %,d events ...", size));
          measure(ledger, folder, size);
        }
      } finally {
        WholeFiles.delete(folder);
      }
    } catch (IOException failed) {
      throw new UncheckedIOException(failed);
    }
    return List.copyOf(figures);
  }

  private static SqliteStore open(Path ledger) {
    return SqliteStore.open(
        ledger, new LedgerBinding("synthetic bench", RigKind.VIRTUAL), 0, Instant.EPOCH);
  }

  private void write(Path ledger, SyntheticRecord record, long size) {
    try (SqliteStore store = open(ledger)) {
      while (store.newest().number() < size) {
        List<StoredEvent> day = Chain.link(store.newest(), record.nextDay());
        store.commit(day);
        days.add(day.get(0).index().wallEpochMs() / DAY_MS * DAY_MS);
        for (StoredEvent event : day) {
          pulses += event.index().kind().equals("pulse-ended") ? 1 : 0;
          if (event.index().kind().equals("magnet-named")) {
            magnets.add(event.number());
          }
        }
      }
    }
  }

  private void measure(Path ledger, Path folder, long size) throws IOException {
    String at = String.format(Locale.ROOT, " at %,d events", size);
    try (LedgerArchive archive = SqliteArchive.open(ledger)) {
      histories(archive, at);
      List<Double> found = new ArrayList<>();
      for (int i = 0; i < DAYS; i++) {
        long day = days.get(random.nextInt(days.size()));
        found.add(milliseconds(() -> DaySummary.of(archive, day, day + DAY_MS)));
      }
      spread("summary of a day" + at, found, DAYS + " days drawn, by the wall clock's times");
    }
    proof(ledger, at);
    commits(ledger, folder, at);
    add(
        "bytes on disk a pulse" + at,
        String.format(Locale.ROOT, "%,.0f", (double) Files.size(ledger) / pulses),
        String.format(
            Locale.ROOT,
            "%,.0f an event, %,d pulses; %,.1f MB with all indices",
            (double) Files.size(ledger) / size,
            pulses,
            Files.size(ledger) * 1e-6));
  }

  private void histories(LedgerArchive archive, String at) {
    List<Long> asked = new ArrayList<>();
    for (int i = 0; i < MAGNETS; i++) {
      asked.add(magnets.get(random.nextInt(magnets.size())));
    }
    names.clear();
    asked.forEach(
        magnet ->
            MagnetHistory.of(archive, magnet)
                .ifPresent(history -> names.add(history.identity().name())));
    List<Double> found = new ArrayList<>();
    for (String name : names.subList(WARM_UPS, names.size())) {
      found.add(
          milliseconds(
              () -> {
                MagnetNames.Search search = MagnetNames.find(archive, name);
                search.match(
                    magnet -> MagnetHistory.of(archive, magnet.magnets().get(0)),
                    unknown -> {
                      throw new IllegalStateException("there is no magnet " + name);
                    });
              }));
    }
    spread(
        "history of one magnet" + at, found, found.size() + " magnets drawn, found by name, read");
  }

  private double milliseconds(Runnable work) {
    long fromNs = clock.nowNs();
    work.run();
    return (clock.nowNs() - fromNs) * 1e-6;
  }

  private void spread(String what, List<Double> milliseconds, String how) {
    Collections.sort(milliseconds);
    int last = milliseconds.size() - 1;
    add(
        what,
        String.format(
            Locale.ROOT,
            "%.2f / %.2f ms",
            milliseconds.get(last / 2),
            milliseconds.get((int) Math.ceil(0.99 * last))),
        "p50 / p99; " + how);
  }

  /** Three ways through the same bytes, one after the other; the plain ones compare nothing. */
  private void proof(Path ledger, String at) {
    long[] bytes = {0};
    double[] hashed = {0};
    double read = milliseconds(() -> hash(ledger, bytes, hashed));
    Proof.Result[] result = new Proof.Result[1];
    double proven = milliseconds(() -> result[0] = SqliteProof.of(ledger, List.of(), done -> {}));
    if (!(result[0] instanceof Proof.Result.Whole whole)) {
      throw new IllegalStateException(result[0].words());
    }
    double file = milliseconds(() -> SqliteProof.fault(ledger));
    add(
        "proof of the whole" + at,
        String.format(Locale.ROOT, "%.2f s", proven * 1e-3),
        String.format(
            Locale.ROOT,
            "%.2f of SHA-256 of the same %.0f MB in memory (%.2f s), %.2f of reading them"
                + " from the same file and hashing (%.2f s); %d threads; indices %.2f s more",
            hashed[0] / proven,
            bytes[0] * 1e-6,
            hashed[0] * 1e-3,
            read / proven,
            read * 1e-3,
            Math.min(
                Runtime.getRuntime().availableProcessors(),
                (int) Math.max(1, whole.events() / 50_000)),
            file * 1e-3));
  }

  private void hash(Path ledger, long[] bytes, double[] hashedMs) {
    MessageDigest digest = WholeFiles.digest();
    List<Bytes> block = new ArrayList<>();
    try (LedgerArchive archive = SqliteArchive.open(ledger)) {
      archive.forEach(
          1,
          Long.MAX_VALUE,
          event -> {
            bytes[0] += event.payload().size();
            block.add(event.payload());
            if (block.size() == BLOCK) {
              hashedMs[0] += milliseconds(() -> block.forEach(each -> each.feed(digest)));
              block.clear();
            }
          });
    }
    hashedMs[0] += milliseconds(() -> block.forEach(each -> each.feed(digest)));
  }

  /** In turns, so that both meet the same disk. */
  private void commits(Path ledger, Path folder, String at) {
    Path bareFile = folder.resolve("bare.database");
    try (SqliteStore store = open(ledger);
        BareInserts bare = BareInserts.into(bareFile)) {
      double ours = 0;
      double plain = 0;
      for (int round = 0; round < ROUNDS; round++) {
        List<StoredEvent> events = new ArrayList<>();
        ours +=
            milliseconds(
                () -> {
                  for (int i = 0; i < COMMITS; i++) {
                    List<StoredEvent> one = Chain.link(store.newest(), List.of(sample()));
                    store.commit(one);
                    events.addAll(one);
                  }
                });
        plain += milliseconds(() -> events.forEach(each -> bare.commit(each.payload())));
      }
      int count = ROUNDS * COMMITS;
      add(
          "durable commits a second" + at,
          String.format(Locale.ROOT, "%,.0f", count / (ours * 1e-3)),
          String.format(
              Locale.ROOT,
              "%.2f of bare SQLite inserts of the same bytes (%,.0f); %d each, in turns, synced",
              plain / ours,
              count / (plain * 1e-3),
              count));
    }
  }

  private static EventDraft sample() {
    return new EventDraft(
        new LedgerEvent.ReadingTaken(
            2, "charged", 60_264, 62_478, 50, 2_155, "rod nest", 2_000, 1, 1),
        1,
        Instant.EPOCH);
  }

  private void add(String what, String value, String how) {
    figures.add(new Figure(what, value, how));
  }
}
