package lodestep.adapter.sqlite;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Random;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.LongConsumer;
import java.util.function.Supplier;
import lodestep.config.RigKind;
import lodestep.ledger.Chain;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.Proof;
import lodestep.ledger.SampleEvents;
import lodestep.port.ChainEnd;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerException;
import lodestep.port.StoredEvent;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: what is read from the file's pages past SQLite is what SQLite reads there, and where it
 * could be anything else SQLite is asked. Method: ledgers with rows of all lengths are written by
 * SQLite itself, left in its log in every way it leaves them, spoilt, and proved both ways.
 */
class QuickProofTest {

  private static final int EVENTS = 150;
  private static final int PART = 40;

  /** In so few pages SQLite's cache overflows into the log before the commit. */
  private static final String SMALL_CACHE = "PRAGMA cache_size=5";

  private final Path ledger;
  private final Random random = new Random(11);
  private ChainEnd end = ChainEnd.EMPTY;

  QuickProofTest(@TempDir Path folder) {
    this.ledger = folder.resolve("whole.ledger");
  }

  @BeforeEach
  void fill() throws SQLException {
    LedgerBinding binding = new LedgerBinding("attic", RigKind.VIRTUAL);
    try (SqliteStore store = SqliteStore.open(ledger, binding, 0, Instant.EPOCH)) {
      end = store.newest();
    }
    try (Connection writer = writer()) {
      append(writer, EVENTS);
    }
  }

  /** A writer that no lock tells of, as in another process. */
  private Connection writer() throws SQLException {
    Connection writer = DriverManager.getConnection("jdbc:sqlite:" + ledger);
    for (String setting : List.of("wal_autocheckpoint=0", "busy_timeout=0", "synchronous=OFF")) {
      SqliteConnections.execute(writer, "PRAGMA " + setting);
    }
    return writer;
  }

  /** Events with texts of all lengths, some over several pages and some with more than ASCII. */
  private void append(Connection writer, int count) throws SQLException {
    try (PreparedStatement insert = writer.prepareStatement(SqliteSchema.INSERT)) {
      for (int i = 0; i < count; i++) {
        int length = random.nextInt(8) == 0 ? random.nextInt(6_000) : random.nextInt(200);
        String text = (random.nextInt(6) == 0 ? "\u00e9 \"1\"\n" : "x").repeat(length);
        LedgerEvent event =
            random.nextBoolean()
                ? new LedgerEvent.ProgramStopped(text)
                : SampleEvents.reading(3, "as found", random.nextInt());
        StoredEvent next = Chain.link(end, new EventDraft(event, random.nextLong(), Instant.EPOCH));
        SqliteSchema.bind(insert, next).executeUpdate();
        end = next.end();
      }
    }
  }

  /** Proved whole, up to here and with SQLite asked for no part. */
  private void assertQuicklyWhole(ChainEnd last) {
    AtomicInteger asked = new AtomicInteger();
    assertThat(proof(done -> {}, asked)).isEqualTo(new Proof.Result.Whole(last.number(), last));
    assertThat(asked).hasValue(0);
  }

  /** Proved whole, whoever was asked: SQLite writes over frames before it sums them up. */
  private void assertWhole(ChainEnd last) {
    assertThat(proof(done -> {}, new AtomicInteger()))
        .isEqualTo(new Proof.Result.Whole(last.number(), last));
  }

  private Proof.Result proof(LongConsumer progress, AtomicInteger asked) {
    return SqliteProof.of(ledger, List.of(), progress, PART, part -> asked.incrementAndGet());
  }

  @ParameterizedTest
  @ValueSource(ints = {512, 1_024, 4_096, 65_536})
  void readsRowsOfAllLengthsFromPagesOfEachSize(int pageSize) throws SQLException {
    try (Connection writer = writer()) {
      SqliteConnections.execute(writer, "PRAGMA journal_mode=DELETE");
      SqliteConnections.execute(writer, "PRAGMA page_size=" + pageSize);
      SqliteConnections.execute(writer, "VACUUM");
      assertThat(SqliteConnections.number(writer, "PRAGMA page_size")).isEqualTo(pageSize);
    }
    assertQuicklyWhole(end);

    try (Connection writer = writer()) {
      SqliteConnections.execute(writer, "PRAGMA journal_mode=WAL");
      append(writer, PART);
      assertQuicklyWhole(end);
    }
  }

  @Test
  void readsWhatOnlyTheLogHolds() throws SQLException {
    try (Connection writer = writer()) {
      append(writer, EVENTS);
      assertThat(DatabasePages.log(ledger)).isNotEmptyFile();

      assertQuicklyWhole(end);
    }
  }

  /** Read from the file alone the row would still be whole. */
  @Test
  void namesARowThatWasEditedInTheLogOnly() throws SQLException {
    try (Connection writer = writer()) {
      SqliteConnections.execute(writer, "DROP TRIGGER event_no_update");
      SqliteConnections.execute(writer, "PRAGMA wal_checkpoint(TRUNCATE)");
      SqliteConnections.execute(
          writer, "UPDATE event SET hash = zeroblob(32) WHERE number = " + 2 * PART);

      assertThat(proof(done -> {}, new AtomicInteger()).words())
          .startsWith("not whole: event " + 2 * PART + ": ");
    }
  }

  @Test
  void leavesOutWhatWasNotCommittedOrWasTakenBack() throws SQLException {
    try (Connection writer = writer()) {
      SqliteConnections.execute(writer, SMALL_CACHE);
      ChainEnd committed = end;
      long before = DatabasePages.log(ledger).toFile().length();
      SqliteConnections.execute(writer, "BEGIN");
      append(writer, EVENTS);
      assertThat(DatabasePages.log(ledger).toFile().length()).isGreaterThan(before);

      assertWhole(committed);

      SqliteConnections.execute(writer, "ROLLBACK");
      end = committed;
      assertWhole(committed);

      // Written over the first of the frames that were taken back; the others stay behind it.
      append(writer, 1);
      assertWhole(end);
    }
  }

  /** After each part, while the rest is being proved, the log is folded in and begun anew. */
  @ParameterizedTest
  @ValueSource(strings = {"PASSIVE", "FULL", "RESTART", "TRUNCATE"})
  void saysTheSameWhileAWriterCommitsAndTheLogIsFoldedIn(String how) throws SQLException {
    try (Connection writer = writer()) {
      for (String before : List.of("PRAGMA user_version", "PRAGMA wal_checkpoint(FULL)")) {
        append(writer, PART);
        SqliteConnections.execute(writer, before);
        ChainEnd newest = end;

        Proof.Result result =
            proof(
                done -> {
                  try {
                    append(writer, 3);
                    SqliteConnections.text(writer, "PRAGMA wal_checkpoint(" + how + ")");
                  } catch (SQLException failed) {
                    throw new IllegalStateException(failed);
                  }
                },
                new AtomicInteger());

        assertThat(result).isEqualTo(new Proof.Result.Whole(newest.number(), newest));
        assertThat(end.number()).isGreaterThan(newest.number());
      }
    }
  }

  @Test
  void leavesAllToSqliteWhereThisProcessKeepsTheLedgerItself() {
    LedgerBinding binding = new LedgerBinding("attic", RigKind.VIRTUAL);
    AtomicInteger asked = new AtomicInteger();
    try (SqliteStore store = SqliteStore.open(ledger, binding, 0, Instant.EPOCH)) {
      assertThat(proof(done -> {}, asked))
          .isEqualTo(new Proof.Result.Whole(store.newest().number(), end));
    }
    assertThat(asked).hasPositiveValue();
    assertQuicklyWhole(end);
  }

  @Test
  void saysWhatSqliteSaysOfAFileWithAnyByteChanged(@TempDir Path folder) throws IOException {
    byte[] whole = Files.readAllBytes(ledger);
    Path spoilt = folder.resolve("spoilt.ledger");
    int broken = 0;
    for (int i = 0; i < 80; i++) {
      byte[] bytes = whole.clone();
      bytes[random.nextInt(bytes.length)] ^= (byte) (1 << random.nextInt(8));
      Files.write(spoilt, bytes);
      String alone = words(() -> alone(spoilt));

      assertThat(words(() -> SqliteProof.of(spoilt, List.of(), done -> {}, PART, part -> {})))
          .isEqualTo(alone);
      broken += alone.startsWith("whole") ? 0 : 1;
    }
    assertThat(broken).isBetween(1, 79);
  }

  private static Proof.Result alone(Path file) {
    try (SqliteArchive archive = SqliteArchive.open(file)) {
      Proof proof = Proof.fromStart(List.of());
      archive.forEachInARow(Long.MIN_VALUE, archive.newest().number(), proof);
      return proof.result();
    }
  }

  private static String words(Supplier<Proof.Result> proof) {
    try {
      return proof.get().words();
    } catch (LedgerException unreadable) {
      return "unreadable";
    }
  }
}
