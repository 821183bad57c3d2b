package lodestep.adapter.sqlite;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.IntConsumer;
import java.util.function.LongConsumer;
import lodestep.ledger.Proof;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerException;

/**
 * Proves a ledger's file whole, in parts side by side: each hash depends on the one stored before
 * it, not on the one reckoned before it, so every part can begin where the one before it should
 * end. Comes to the same result as going through all events in their order.
 */
public final class SqliteProof {

  /** Events of one part: some tenths of a second of work, so that progress shows. */
  private static final long PART = 50_000;

  /** More connections than this gain nothing on one disk. */
  private static final int THREADS_MAX = 8;

  private static final String OBJECTS_THERE = "SELECT sql FROM sqlite_schema WHERE sql NOT NULL";

  private final Path file;
  private final List<ChainEnd> anchors;
  private final ChainEnd newest;
  private final long size;
  private final int parts;
  private final QuickProof quick;
  private final IntConsumer asked;
  private final AtomicInteger next = new AtomicInteger();
  private final AtomicInteger broken = new AtomicInteger(Integer.MAX_VALUE);
  private final BlockingQueue<Done> done = new LinkedBlockingQueue<>();

  /** A part that is done, or why it could not be. */
  private record Done(int part, Optional<Proof.Result> result, Optional<RuntimeException> failed) {}

  private SqliteProof(
      Path file,
      List<ChainEnd> anchors,
      ChainEnd newest,
      long size,
      QuickProof quick,
      IntConsumer asked) {
    this.file = file;
    this.anchors = anchors;
    this.newest = newest;
    this.size = size;
    this.parts = (int) Math.max(1, (newest.number() + size - 1) / size);
    this.quick = quick;
    this.asked = asked;
  }

  /**
   * Proves all events that stand in the file now.
   *
   * @param progress is told how many events are done, by the calling thread
   * @throws LedgerException if the file cannot be read
   */
  public static Proof.Result of(Path file, List<ChainEnd> anchors, LongConsumer progress) {
    return of(file, anchors, progress, PART, part -> {});
  }

  /**
   * The same, told how many events are one part.
   *
   * @param asked is told each part for which SQLite had to be asked, by any thread
   */
  static Proof.Result of(
      Path file, List<ChainEnd> anchors, LongConsumer progress, long size, IntConsumer asked) {
    // Opened before every connection of this proof and closed after the last.
    try (QuickProof quick = QuickProof.open(file);
        SqliteArchive archive = SqliteArchive.open(file)) {
      archive.hold();
      ChainEnd newest = archive.newest();
      quick.begin(archive.root(), newest);
      return new SqliteProof(file, anchors, newest, size, quick, asked).prove(progress);
    }
  }

  private Proof.Result prove(LongConsumer progress) {
    int threads =
        Math.min(Math.min(THREADS_MAX, parts), Runtime.getRuntime().availableProcessors());
    List<Thread> workers = new ArrayList<>();
    for (int i = 0; i < threads; i++) {
      Thread worker = new Thread(this::work, "proof-" + i);
      worker.setDaemon(true);
      worker.start();
      workers.add(worker);
    }
    try {
      return taken(progress);
    } finally {
      // They hold connections, which have to be closed before the pages are.
      join(workers);
    }
  }

  private static void join(List<Thread> workers) {
    boolean interrupted = false;
    for (Thread worker : workers) {
      while (worker.isAlive()) {
        try {
          worker.join();
        } catch (InterruptedException asked) {
          interrupted = true;
        }
      }
    }
    if (interrupted) {
      Thread.currentThread().interrupt();
    }
  }

  private Proof.Result taken(LongConsumer progress) {
    SortedMap<Integer, Proof.Result> faults = new TreeMap<>();
    for (int taken = 0; taken < parts; taken++) {
      Done part = take();
      part.failed()
          .ifPresent(
              why -> {
                broken.set(-1);
                throw why;
              });
      part.result()
          .filter(Proof.Result.Broken.class::isInstance)
          .ifPresent(fault -> faults.put(part.part(), fault));
      progress.accept(Math.min(newest.number(), (taken + 1) * size));
    }
    return together(faults);
  }

  private Done take() {
    try {
      return done.take();
    } catch (InterruptedException asked) {
      Thread.currentThread().interrupt();
      broken.set(-1);
      throw new LedgerException("the proof of " + file + " was interrupted; begin it again", asked);
    }
  }

  /** The first part that is broken decides; those after it may not even have been looked at. */
  private Proof.Result together(SortedMap<Integer, Proof.Result> faults) {
    return faults.values().stream()
        .findFirst()
        .or(() -> Proof.cut(newest, anchors))
        .orElseGet(() -> new Proof.Result.Whole(newest.number(), newest));
  }

  private void work() {
    try (SqliteArchive archive = SqliteArchive.open(file)) {
      for (int part = next.getAndIncrement(); part < parts; part = next.getAndIncrement()) {
        Optional<Proof.Result> result = Optional.empty();
        if (part <= broken.get()) {
          Proof.Result found = prove(archive, part);
          result = Optional.of(found);
          if (found instanceof Proof.Result.Broken) {
            broken.accumulateAndGet(part, Math::min);
          }
        }
        done.add(new Done(part, result, Optional.empty()));
      }
    } catch (RuntimeException failed) {
      done.add(new Done(0, Optional.empty(), Optional.of(failed)));
    }
  }

  private Proof.Result prove(SqliteArchive archive, int part) {
    long before = part * size;
    long last = Math.min(newest.number(), before + size);
    ChainEnd[] start = {new ChainEnd(before, ChainEnd.EMPTY.hash())};
    if (before > 0) {
      archive.forEachInARow(before, before, event -> start[0] = event.end());
    }
    List<ChainEnd> here =
        anchors.stream().filter(a -> a.number() > before && a.number() <= last).toList();
    if (quick.surely(start[0], here, last)) {
      return new Proof.Result.Whole(last - before, newest);
    }
    asked.accept(part);
    Proof proof = Proof.after(start[0], here);
    archive.forEachInARow(part == 0 ? Long.MIN_VALUE : before + 1, last, proof);
    return proof.result(last);
  }

  /**
   * What is wrong with the file around its events: pages, indices by which events are found, and
   * the triggers that keep it append-only. Empty when nothing is.
   */
  public static Optional<String> fault(Path file) {
    try (Connection connection = SqliteConnections.openReader(file.toAbsolutePath().normalize())) {
      Optional<String> around = changed(SqliteConnections.texts(connection, OBJECTS_THERE));
      if (around.isPresent()) {
        return around;
      }
      String pages = SqliteConnections.text(connection, "PRAGMA integrity_check(1)");
      return pages.equals("ok") ? Optional.empty() : Optional.of(SqliteErrors.oneLine(pages));
    } catch (SQLException failed) {
      throw SqliteErrors.explain("read", file, failed);
    }
  }

  private static Optional<String> changed(List<String> there) {
    List<String> gone = new ArrayList<>(SqliteSchema.OBJECTS);
    // A ledger that no program of today has written to yet lacks these.
    gone.removeAll(SqliteSchema.LATER);
    gone.removeAll(there);
    List<String> more = new ArrayList<>(there);
    more.removeAll(SqliteSchema.OBJECTS);
    if (!gone.isEmpty()) {
      return Optional.of("a part of what keeps it append-only is gone: " + gone.get(0));
    }
    return more.isEmpty()
        ? Optional.empty()
        : Optional.of("something was added to it: " + more.get(0));
  }
}
