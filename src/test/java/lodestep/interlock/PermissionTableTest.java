package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import org.junit.jupiter.api.Test;

/**
 * Goal: the permission is exactly what {@code safety/permission-table.txt} says. Method: there are
 * few enough rows to try them all.
 */
class PermissionTableTest {

  private static final Outputs SIGNALS =
      Outputs.high(
          OutputLine.LAMP_READY,
          OutputLine.LAMP_BUSY,
          OutputLine.LAMP_ACCEPT,
          OutputLine.LAMP_REFUSE,
          OutputLine.BUZZER);

  private static final Map<String, Predicate<Permission>> SUBJECTS = subjects();

  private static Map<String, Predicate<Permission>> subjects() {
    Map<String, Predicate<Permission>> subjects = new LinkedHashMap<>();
    subjects.put("permit", Permission::permit);
    subjects.put("relays", p -> bothAlike(p.allowed()));
    subjects.put("ladder", p -> ladderAlike(p.allowed()));
    subjects.put("on", p -> p.allowed().isHigh(OutputLine.COIL_ON));
    subjects.put("hold", p -> p.allowed().isHigh(OutputLine.BANK_HOLD));
    subjects.put("fill", p -> p.allowed().isHigh(OutputLine.BANK_FILL));
    subjects.put("fire", p -> p.allowed().isHigh(OutputLine.COIL_FIRE));
    subjects.put("keep", p -> allAlike(p.kept()));
    subjects.put("jig", p -> p.allowed().isHigh(OutputLine.JIG_ENABLE));
    subjects.put("signals", p -> p.allowed().only(SIGNALS).equals(SIGNALS));
    return subjects;
  }

  private static boolean bothAlike(Outputs outputs) {
    boolean reverse = outputs.isHigh(OutputLine.COIL_REVERSE);
    if (reverse != outputs.isHigh(OutputLine.COIL_FULL)) {
      throw new AssertionError("changeover and range relay are not treated alike: " + outputs);
    }
    return reverse;
  }

  private static boolean allAlike(Outputs outputs) {
    boolean relays = bothAlike(outputs);
    if (relays != ladderAlike(outputs)) {
      throw new AssertionError("the ladder is not kept as the relays are: " + outputs);
    }
    return relays;
  }

  private static boolean ladderAlike(Outputs outputs) {
    long high = OutputLine.LADDER.stream().filter(outputs::isHigh).count();
    if (high != 0 && high != OutputLine.LADDER.size()) {
      throw new AssertionError("the relays of the ladder are not treated alike: " + outputs);
    }
    return high != 0;
  }

  @Test
  void permitsExactlyWhatTheTableSaysInEveryRow() throws IOException {
    List<PermissionTable.Line> table = PermissionTable.read();
    for (Map.Entry<String, Predicate<Permission>> subject : SUBJECTS.entrySet()) {
      PermissionTable.Line[] yes = verdicts(linesOf(table, subject.getKey()), true);
      PermissionTable.Line[] no = verdicts(linesOf(table, subject.getKey()), false);
      // Permissions are few and shared: each is asked once.
      IdentityHashMap<Permission, Boolean> asked = new IdentityHashMap<>();
      int permitted = 0;
      for (int row = 0; row < PermissionRow.COUNT; row++) {
        boolean says = fits(yes, row);
        if (says == fits(no, row)) {
          throw new AssertionError(
              subject.getKey() + " has no verdict or two in row " + unmet(row));
        }
        Permission permission = Permissive.of(new PermissionRow(row));
        if (says != asked.computeIfAbsent(permission, subject.getValue()::test)) {
          throw new AssertionError(subject.getKey() + " differs from the table in " + unmet(row));
        }
        permitted += says ? 1 : 0;
      }
      System.out.printf(
          "permission table: %-8s %d of %d rows yes, no difference%n",
          subject.getKey(), permitted, PermissionRow.COUNT);
    }
  }

  private static List<Condition> unmet(int row) {
    return new PermissionRow(row).unmet(-1);
  }

  @Test
  void speaksOfNothingElse() throws IOException {
    assertThat(PermissionTable.read())
        .allSatisfy(line -> assertThat(SUBJECTS).containsKey(line.what()));
  }

  @Test
  void refusesALineThatIsNotAVerdict() {
    assertThatThrownBy(() -> PermissionTable.parse(List.of("", "hold maybe 1 1")))
        .hasMessageContaining("line 2");
  }

  private static List<PermissionTable.Line> linesOf(
      List<PermissionTable.Line> table, String subject) {
    return table.stream().filter(line -> line.what().equals(subject)).toList();
  }

  private static PermissionTable.Line[] verdicts(List<PermissionTable.Line> lines, boolean yes) {
    return lines.stream().filter(line -> line.yes() == yes).toArray(PermissionTable.Line[]::new);
  }

  private static boolean fits(PermissionTable.Line[] lines, int row) {
    for (PermissionTable.Line line : lines) {
      if (line.fits(row)) {
        return true;
      }
    }
    return false;
  }
}
