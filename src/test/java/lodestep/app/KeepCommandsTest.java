package lodestep.app;

import static lodestep.app.CommandRun.ONE;
import static lodestep.app.CommandRun.run;
import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lodestep.adapter.sqlite.SqliteArchive;
import lodestep.adapter.sqlite.SqliteStore;
import lodestep.app.CommandRun.Ended;
import lodestep.bench.Batch;
import lodestep.bench.Plan;
import lodestep.cli.KeepWork.BackupMade;
import lodestep.cli.KeepWork.BackupOrder;
import lodestep.cli.Program.Outcome;
import lodestep.cli.Program.Run;
import lodestep.cli.Program.Watcher;
import lodestep.config.RigConfig;
import lodestep.dial.PlannerMode;
import lodestep.ledger.Backup;
import lodestep.ledger.LedgerBinding;
import lodestep.port.LedgerEvent;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: nothing that was on record is ever lost by keeping it. */
class KeepCommandsTest {

  private static final String PLAN =
      """
      name,alloy,shape,size,nest,pole up,target,tolerance,count
      kept,alnico 5,rod,4.9 x 16.5 mm,,north,610 G,10 G,3
      """;

  private final Path folder;
  private final Path ledger;
  private final Path backups;

  KeepCommandsTest(@TempDir Path folder) {
    this.folder = folder;
    this.ledger = folder.resolve("bench.ledger");
    this.backups = folder.resolve("backups");
  }

  private Ended onLedger(String... arguments) {
    return CommandRun.on(ledger, arguments);
  }

  private JsonNode backedUp() throws IOException {
    Ended ended = onLedger("backup", "--folder", backups.toString(), "--json");
    assertThat(ended.err()).isEmpty();
    assertThat(ended.code()).isZero();
    return ended.json().get(0);
  }

  private static String newest(Path ledger) throws IOException {
    JsonNode proof = CommandRun.on(ledger, "prove", "--json").json();
    assertThat(proof.get("whole").asBoolean()).as(proof.toString()).isTrue();
    return proof.get("newestEvent").asText() + ":" + proof.get("newestHash").asText();
  }

  private void tamper(String... statements) throws SQLException {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + ledger);
        Statement statement = connection.createStatement()) {
      for (String sql : statements) {
        statement.execute(sql);
      }
    }
  }

  private List<String> payloads() {
    List<String> all = new ArrayList<>();
    try (SqliteArchive archive = SqliteArchive.open(ledger)) {
      archive.forEach(1, Long.MAX_VALUE, event -> all.add(event.payload().utf8()));
    }
    return all;
  }

  private List<Path> named(String part) throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      return files.filter(file -> file.getFileName().toString().contains(part)).sorted().toList();
    }
  }

  /** The batch's own watcher makes the backups, so they come between two commits of the batch. */
  @Test
  void backsUpWhileABatchIsWrittenAndGoesOnFromTheRestoredCopy() throws IOException {
    Wiring wiring = new Wiring(Outside.unattended());
    RigConfig rig = wiring.rig(Optional.empty());
    List<BackupMade> made = new ArrayList<>();
    Watcher watcher =
        new BackingUp(
            () ->
                made.addAll(
                    wiring
                        .keep()
                        .backup(
                            new BackupOrder(
                                ledger, backups, List.of(), Optional.empty(), Optional.empty()))));
    Plan plan = (Plan) wiring.planText("kept.csv", PLAN, rig);
    Outcome outcome =
        wiring.run(new Run(rig, Optional.of(plan), ledger, false, PlannerMode.CURVE, 1), watcher);

    assertThat(outcome.batch().open()).isZero();
    assertThat(made).hasSize(3).allSatisfy(each -> assertThat(each.fault()).isEmpty());
    long end = Long.parseLong(newest(ledger).split(":", 2)[0]);
    for (BackupMade each : made) {
      BackupMade.Made copy = each.made().orElseThrow();
      assertThat(copy.note().end().number()).isBetween(15L, end - 1);
      Path restored = folder.resolve("restored-" + copy.note().end().number() + ".ledger");
      Ended done = run("restore", copy.where().toString(), "--ledger", restored.toString());
      assertThat(done.code()).as(done.err()).isZero();
      assertThat(newest(restored))
          .isEqualTo(copy.note().end().number() + ":" + copy.note().end().hash());
      Ended goesOn = CommandRun.on(restored, "batch", "--continue");
      assertThat(goesOn.code()).as(goesOn.err()).isZero();
      assertThat(goesOn.out()).contains("3 accepted, 0 refused, 0 recharge needed, 0 open");
      newest(restored);
    }
  }

  /** Makes a backup at each of three events of the batch. */
  private static final class BackingUp implements Watcher {

    private final Runnable backup;
    private int events;

    BackingUp(Runnable backup) {
      this.backup = backup;
    }

    @Override
    public void event(LedgerEvent event, double rigSeconds) {
      events++;
      if (events == 20 || events == 30 || events == 40) {
        backup.run();
      }
    }

    @Override
    public void verdict(Batch batch, int done, double rigSeconds) {}

    @Override
    public void trip(String sentence) {}
  }

  @Test
  void putsCopyNoteAndRigTogetherInAFolderOfItsOwn() throws IOException {
    onLedger(ONE);
    JsonNode made = backedUp();
    Path where = Path.of(made.get("backup").asText());

    try (Stream<Path> files = Files.list(where)) {
      assertThat(files.map(file -> file.getFileName().toString()))
          .containsExactlyInAnyOrder(Backup.LEDGER, Backup.NOTE, Backup.RIG);
    }
    assertThat(newest(ledger))
        .isEqualTo(made.get("newestEvent").asText() + ":" + made.get("newestHash").asText());
    assertThat(run("rig", where.resolve(Backup.RIG).toString()).code()).isZero();
    assertThat(onLedger("prove", "--against", where.toString()).out())
        .contains("nothing is cut off");
    assertThat(onLedger("backup", "--folder", backups.toString()).out())
        .startsWith("Backed up to ")
        .contains("VIRTUAL, ");
  }

  @Test
  void takesAwayOlderOnesOfADayAndNoneOfAnotherLedger() throws IOException {
    onLedger(ONE);
    backedUp();
    backedUp();
    Path other = folder.resolve("other.ledger");
    CommandRun.on(other, ONE);
    CommandRun.on(other, "backup", "--folder", backups.toString());

    Ended ended =
        onLedger("backup", "--folder", backups.toString(), "--keep", "7 days, 4 weeks", "--json");

    assertThat(ended.json().get(0).get("takenAway")).hasSize(2);
    Ended listed = run("restore", backups.toString(), "--list");
    assertThat(listed.out().lines().filter(line -> line.contains(", VIRTUAL"))).hasSize(2);
    assertThat(onLedger("backup", "--folder", backups.toString(), "--keep", "soon").err())
        .isEqualTo("lodestep: --keep: 'soon' is not like \"7 days, 4 weeks\"\n");
    Ended several = run("restore", backups.toString(), "--ledger", folder + "/x.ledger");
    assertThat(several.err()).contains("there are backups of 2 ledgers").hasLineCount(1);
  }

  @Test
  void saysThatAFolderIsMissingAndMakesTheOtherCopy() throws IOException {
    onLedger(ONE);
    Path stick = folder.resolve("stick");

    Ended ended = onLedger("backup", "--folder", backups.toString(), "--also", stick.toString());

    assertThat(ended.code()).isEqualTo(1);
    assertThat(ended.err()).contains("there is no folder " + stick).hasLineCount(1);
    assertThat(ended.out()).startsWith("Backed up to ");
    assertThat(stick).doesNotExist();
    Files.createDirectory(stick);
    Ended same = onLedger("backup", "--folder", backups.toString(), "--also", stick.toString());
    assertThat(same.code()).isEqualTo(1);
    assertThat(same.err()).contains("so it is no second copy").hasLineCount(1);
    Path note = Files.writeString(folder.resolve("note"), "");
    assertThat(onLedger("backup", "--folder", note.toString()).code()).isEqualTo(2);
  }

  @Test
  void takesAwayWhatAKilledBackupLeft() throws IOException {
    onLedger(ONE);
    Path half = backups.resolve(".lodestep-backup.unfinished");
    Files.createDirectories(half);
    Files.writeString(half.resolve(Backup.LEDGER), "half a copy");

    backedUp();

    assertThat(half).doesNotExist();
  }

  @Test
  void backsUpNoLedgerThatIsNotWholeOrOlderThanABackup() throws IOException, SQLException {
    onLedger(ONE);
    Path old = Files.copy(ledger, folder.resolve("old"));
    onLedger(ONE);
    backedUp();
    Files.delete(ledger);
    Files.move(old, ledger);

    Ended older = onLedger("backup", "--folder", backups.toString());

    assertThat(older.code()).isEqualTo(2);
    assertThat(older.err()).contains("is not whole", "was noted elsewhere").hasLineCount(1);
    tamper("DROP TRIGGER event_no_update", "UPDATE event SET magnet = 3 WHERE number = 8");
    assertThat(onLedger("backup", "--folder", folder + "/fresh").err()).contains("event 8: ");
    assertThat(run("restore", backups.toString(), "--list", "--json").json()).hasSize(1);
  }

  @Test
  void looksOnlyInADryRun() throws IOException {
    onLedger(ONE);
    JsonNode made = backedUp();
    onLedger(ONE);
    String before = newest(ledger);

    Ended dry = onLedger("restore", backups.toString(), "--dry-run");

    assertThat(dry.code()).as(dry.err()).isZero();
    long lacking = Long.parseLong(before.split(":", 2)[0]) - made.get("newestEvent").asLong();
    assertThat(dry.out())
        .contains("would be set aside as", "Would be put in the place of")
        .contains("MIND: it holds " + lacking + " events that the backup lacks");
    assertThat(newest(ledger)).isEqualTo(before);
    assertThat(named(".aside")).isEmpty();
    Path nowhere = folder.resolve("nowhere.ledger");
    CommandRun.on(nowhere, "restore", backups.toString(), "--dry-run");
    assertThat(nowhere).doesNotExist();
  }

  @Test
  void setsALedgerAsideThatHoldsMoreAndSaysSoInTheRestoredOne() throws IOException {
    onLedger(ONE);
    JsonNode made = backedUp();
    onLedger(ONE);
    String before = newest(ledger);

    JsonNode restored = onLedger("restore", backups.toString(), "--json").json();

    Path aside = Path.of(restored.get("setAsideAs").asText());
    assertThat(newest(aside)).isEqualTo(before);
    assertThat(restored.get("eventsTheBackupLacks").asLong()).isPositive();
    Ended shown = run("prove", "--ledger", ledger.toString(), "--json");
    assertThat(shown.json().get("newestEvent").asLong())
        .isEqualTo(made.get("newestEvent").asLong() + 1);
    assertThat(payloads().get(payloads().size() - 1))
        .contains("\"kind\":\"ledger-set-aside\"", aside.getFileName().toString())
        .contains(before.split(":", 2)[1]);
    // The fork is on record, so the next backup is none of an older copy.
    assertThat(onLedger(ONE).code()).isZero();
    backedUp();
  }

  @Test
  void leavesTheSameEventsAlone() throws IOException {
    onLedger(ONE);
    backedUp();

    assertThat(onLedger("restore", backups.toString()).out()).contains("nothing is to be done");
    assertThat(named(".aside")).isEmpty();
  }

  @Test
  void refusesABackupThatIsNotAsItWasMadeAndAPlaceOfAnother() throws IOException {
    onLedger(ONE);
    Path where = Path.of(backedUp().get("backup").asText());
    Path other = folder.resolve("other.ledger");
    CommandRun.on(other, ONE);

    Ended elsewhere = CommandRun.on(other, "restore", where.toString());
    byte[] bytes = Files.readAllBytes(where.resolve(Backup.LEDGER));
    bytes[bytes.length - 5] ^= 1;
    Files.write(where.resolve(Backup.LEDGER), bytes);
    Ended spoilt = run("restore", where.toString(), "--ledger", folder + "/new.ledger");

    assertThat(elsewhere.code()).isEqualTo(2);
    assertThat(elsewhere.err()).contains("is another one than the backup's").hasLineCount(1);
    assertThat(spoilt.code()).isEqualTo(2);
    assertThat(spoilt.err()).contains("is not as it was made").hasLineCount(1);
    assertThat(folder.resolve("new.ledger")).doesNotExist();
  }

  @Test
  void putsNothingInThePlaceOfALedgerThatIsInUse() throws IOException {
    onLedger(ONE);
    backedUp();
    RigConfig rig = new Wiring(Outside.unattended()).rig(Optional.empty());
    LedgerBinding binding = new LedgerBinding(rig.name(), rig.kind());
    try (SqliteStore store = SqliteStore.open(ledger, binding, 0, Instant.EPOCH)) {
      long newest = store.newest().number();

      for (Ended ended : List.of(onLedger("restore", backups.toString()), onLedger("set-aside"))) {
        assertThat(ended.code()).isEqualTo(2);
        assertThat(ended.err()).contains("is in use by another Lodestep").hasLineCount(1);
      }
      assertThat(store.newest().number()).isEqualTo(newest);
    }
  }
}
