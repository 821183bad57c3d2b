package lodestep.adapter.sqlite;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.IntFunction;
import lodestep.config.RigKind;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.Proof;
import lodestep.ledger.SampleEvents;
import lodestep.port.ChainEnd;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Goal: whatever is done to a ledger's file by SQL, at whatever row, the right row is named.
 * Method: a small ledger is copied, the copy's triggers taken off, one thing done at one row, the
 * triggers put on again, and the file proved, in one part and in parts of three events side by
 * side.
 */
class TamperedLedgerTest {

  private static final int EVENTS = 20;

  /** As long as a part that the rows of this ledger fall into several of. */
  private static final long SMALL_PART = 3;

  private final Path ledger;
  private final Path copy;
  private final List<ChainEnd> ends = new ArrayList<>();

  TamperedLedgerTest(@TempDir Path folder) {
    this.ledger = folder.resolve("whole.ledger");
    this.copy = folder.resolve("copy.ledger");
  }

  @BeforeEach
  void fill() {
    List<LedgerEvent> all = SampleEvents.twoMagnets();
    LedgerBinding binding = new LedgerBinding("attic", RigKind.VIRTUAL);
    try (SqliteStore store = SqliteStore.open(ledger, binding, 0, Instant.EPOCH)) {
      store.commit(SampleEvents.chained(store.newest(), all.subList(1, all.size())));
      store.forEach(1, EVENTS, event -> ends.add(event.end()));
    }
  }

  private ChainEnd end(int number) {
    return ends.get(number - 1);
  }

  /** Does this to a copy, with the triggers off, and leaves the file as it was around it. */
  private void tamper(String... statements) throws IOException, SQLException {
    Files.copy(ledger, copy, StandardCopyOption.REPLACE_EXISTING);
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + copy);
        Statement statement = connection.createStatement()) {
      for (String trigger : List.of("event_no_update", "event_no_delete", "event_follows")) {
        statement.execute("DROP TRIGGER " + trigger);
      }
      for (String sql : statements) {
        statement.execute(sql);
      }
      for (String object : SqliteSchema.OBJECTS) {
        if (object.startsWith("CREATE TRIGGER")) {
          statement.execute(object);
        }
      }
    }
    assertThat(SqliteProof.fault(copy)).isEmpty();
  }

  private void assertNamed(long number, ChainEnd... anchors) {
    for (long size : new long[] {SMALL_PART, Integer.MAX_VALUE}) {
      Proof.Result result = SqliteProof.of(copy, List.of(anchors), done -> {}, size, part -> {});
      assertThat(result.words()).startsWith("not whole: event " + number + ": ");
    }
  }

  private void atEveryRow(int first, int last, IntFunction<String[]> doing, int off)
      throws IOException, SQLException {
    for (int row = first; row <= last; row++) {
      tamper(doing.apply(row));
      assertNamed(row + off);
    }
  }

  @Test
  void saysWholeOfTheCopyThatWasLeftAlone() throws IOException, SQLException {
    tamper();

    for (long size : new long[] {1, SMALL_PART, EVENTS, Integer.MAX_VALUE}) {
      List<Integer> asked = new CopyOnWriteArrayList<>();
      assertThat(SqliteProof.of(copy, List.of(end(EVENTS)), done -> {}, size, asked::add))
          .isEqualTo(new Proof.Result.Whole(EVENTS, end(EVENTS)));
      assertThat(asked).as("parts that the quick way left to SQLite").isEmpty();
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "payload = replace(payload, '\"number\":', '\"number\":1')",
        "payload = substr(payload, 1, length(payload) - 1) || ' }'",
        "payload = ''",
        "kind = 'trip-reset'",
        "magnet = magnet + 1",
        "wall_epoch_ms = wall_epoch_ms - 1",
        "hash = zeroblob(32)",
        "hash = CAST(substr(hash, 2) || x'00' AS BLOB)",
        "hash = x'00'"
      })
  void namesTheRowThatWasEdited(String edit) throws IOException, SQLException {
    atEveryRow(
        1, EVENTS, row -> new String[] {"UPDATE event SET " + edit + " WHERE number = " + row}, 0);
  }

  @Test
  void namesTheRowThatWasTakenOut() throws IOException, SQLException {
    atEveryRow(1, EVENTS - 1, row -> new String[] {"DELETE FROM event WHERE number = " + row}, 0);
  }

  /** The rows after it are moved up, so that no number is missing. */
  @Test
  void namesTheFirstRowThatMovedUpWhenOneWasTakenOut() throws IOException, SQLException {
    atEveryRow(
        1,
        EVENTS - 1,
        row ->
            new String[] {
              "DELETE FROM event WHERE number = " + row,
              "UPDATE event SET number = -number WHERE number > " + row,
              "UPDATE event SET number = -number - 1 WHERE number < 0"
            },
        0);
  }

  @Test
  void namesTheRowThatWasPutIn() throws IOException, SQLException {
    atEveryRow(
        0,
        EVENTS,
        row ->
            new String[] {
              "UPDATE event SET number = -number WHERE number > " + row,
              "UPDATE event SET number = -number + 1 WHERE number < 0",
              "INSERT INTO event SELECT "
                  + (row + 1)
                  + ", kind, magnet, wall_epoch_ms, payload, hash FROM event WHERE number <> "
                  + (row + 1)
                  + " ORDER BY abs(number - "
                  + (row + 1)
                  + ") DESC LIMIT 1"
            },
        1);
  }

  @Test
  void namesARowThatWasPutInBeforeTheFirst() throws IOException, SQLException {
    for (int number : new int[] {0, -1, -1_000_000}) {
      tamper(
          "INSERT INTO event SELECT "
              + number
              + ", kind, magnet, wall_epoch_ms, payload, hash FROM event WHERE number = 1");
      assertNamed(number);
    }
  }

  @Test
  void namesTheFirstOfTwoRowsThatChangedPlaces() throws IOException, SQLException {
    for (int one = 1; one <= EVENTS; one++) {
      for (int other : new int[] {one + 1, EVENTS}) {
        if (other > one && other <= EVENTS) {
          tamper(
              "UPDATE event SET number = 1000 WHERE number = " + one,
              "UPDATE event SET number = " + one + " WHERE number = " + other,
              "UPDATE event SET number = " + other + " WHERE number = 1000");
          assertNamed(one);
        }
      }
    }
  }

  /** A cut tail and an older copy are the same: events are gone that were noted elsewhere. */
  @Test
  void namesTheFirstRowThatIsMissingOfACutTailOrAnOlderCopy() throws IOException, SQLException {
    for (int last = 1; last < EVENTS; last++) {
      tamper("DELETE FROM event WHERE number > " + last);

      assertNamed(last + 1, end(EVENTS));
      assertNamed(last + 1, end(1), end(last + 1));
      assertThat(SqliteProof.of(copy, List.of(end(last)), done -> {}))
          .isEqualTo(new Proof.Result.Whole(last, end(last)));
    }
  }

  /**
   * Whoever has the file can make all hashes anew; what was noted of each event names the first.
   */
  @Test
  void namesTheFirstRowOfAChainMadeAnewAgainstAnExportOfAllEvents()
      throws IOException, SQLException {
    List<LedgerEvent> events = new ArrayList<>(SampleEvents.twoMagnets());
    for (int row = 6; row <= EVENTS; row++) {
      List<LedgerEvent> forged = new ArrayList<>(events);
      forged.set(row - 1, SampleEvents.reading(3, "as found", 77_000));
      Files.copy(ledger, copy, StandardCopyOption.REPLACE_EXISTING);
      int from = row;
      tamper("DELETE FROM event WHERE number >= " + row);
      SqliteKeeper.append(
          copy, SampleEvents.chained(end(from - 1), forged.subList(from - 1, EVENTS)));

      assertThat(SqliteProof.of(copy, List.of(), done -> {}))
          .isInstanceOf(Proof.Result.Whole.class);
      assertNamed(row, ends.toArray(ChainEnd[]::new));
      assertNamed(EVENTS, end(EVENTS));
    }
  }

  @Test
  void saysWhatIsWrongAroundTheEvents() throws SQLException, IOException {
    tamper();
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + copy);
        Statement statement = connection.createStatement()) {
      statement.execute("DROP TRIGGER event_no_delete");
      assertThat(SqliteProof.fault(copy).orElseThrow()).contains("event_no_delete");
    }
    tamper();
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + copy);
        Statement statement = connection.createStatement()) {
      statement.execute("CREATE TRIGGER more BEFORE INSERT ON event BEGIN SELECT 1; END");
      assertThat(SqliteProof.fault(copy).orElseThrow()).contains("was added", "more");
    }
  }
}
