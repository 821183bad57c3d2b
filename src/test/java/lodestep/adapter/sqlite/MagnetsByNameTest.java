package lodestep.adapter.sqlite;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import lodestep.config.RigKind;
import lodestep.ledger.LedgerBinding;
import lodestep.ledger.MagnetNames;
import lodestep.ledger.SampleEvents;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.MagnetNamed;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Goal: a magnet is found by the index as it would be found among all. */
class MagnetsByNameTest {

  private static final LedgerBinding BINDING = new LedgerBinding("attic", RigKind.VIRTUAL);

  private final Path file;

  MagnetsByNameTest(@TempDir Path folder) {
    this.file = folder.resolve("bench.ledger");
  }

  @BeforeEach
  void fill() {
    List<LedgerEvent> events = new ArrayList<>(SampleEvents.twoMagnets());
    MagnetNamed one = (MagnetNamed) events.get(2);
    for (String name : List.of("4", "#3", "WREN 1", "Wren 1", "it's", "a \"quoted\" % name", "ö")) {
      events.add(named(one, name));
    }
    try (SqliteStore store = SqliteStore.open(file, BINDING, 0, Instant.EPOCH)) {
      store.commit(SampleEvents.chained(store.newest(), events.subList(1, events.size())));
    }
  }

  private static MagnetNamed named(MagnetNamed like, String name) {
    return new MagnetNamed(
        like.batch(),
        name,
        1,
        1,
        "",
        "",
        like.alloy(),
        like.shape(),
        like.sizesMicroMetres(),
        like.nest(),
        like.poleUp(),
        like.task(),
        1,
        0,
        0,
        1,
        0,
        0);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "Wren 1",
        "wren 1",
        "WREN 1",
        " Wren 2 ",
        "3",
        "#3",
        "4",
        "#4",
        "21",
        "99",
        "#99",
        "0",
        "it's",
        "a \"quoted\" % name",
        "ö",
        "Ö",
        "",
        "Wrn 1"
      })
  void findsWhatALookAtAllFinds(String written) {
    try (SqliteArchive archive = SqliteArchive.open(file)) {
      assertThat(MagnetNames.find(archive, written))
          .isEqualTo(MagnetNames.of(archive).find(written));
    }
  }

  @Test
  void asksTheIndexAndNotEveryRow() throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file)) {
      assertThat(plan(connection, "kind = 'magnet-named' AND " + SqliteSchema.NAME + " = 'x'"))
          .contains("USING INDEX event_name");
      assertThat(plan(connection, "wall_epoch_ms >= 5 AND wall_epoch_ms < 9"))
          .contains("USING INDEX event_time");
    }
  }

  private static String plan(Connection connection, String where) throws SQLException {
    StringBuilder plan = new StringBuilder();
    try (Statement statement = connection.createStatement();
        var rows =
            statement.executeQuery(
                "EXPLAIN QUERY PLAN SELECT number, payload FROM event WHERE "
                    + where
                    + " ORDER BY number")) {
      while (rows.next()) {
        plan.append(rows.getString("detail")).append('\n');
      }
    }
    return plan.toString();
  }

  /** A ledger of an older program has no such index until something is appended to it. */
  @Test
  void findsInALedgerWithoutTheIndexAndMakesIt() throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file);
        Statement statement = connection.createStatement()) {
      statement.execute("DROP INDEX event_name");
      statement.execute("DROP INDEX event_time");
    }

    findsWhatALookAtAllFinds("Wren 2");
    assertThat(SqliteProof.fault(file)).isEmpty();
    SqliteStore.open(file, BINDING, 0, Instant.EPOCH).close();

    asksTheIndexAndNotEveryRow();
  }
}
