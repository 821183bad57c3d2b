package lodestep.interlock;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
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
    subjects.put("hold", p -> p.allowed().isHigh(OutputLine.BANK_HOLD));
    subjects.put("fill", p -> p.allowed().isHigh(OutputLine.BANK_FILL));
    subjects.put("fire", p -> p.allowed().isHigh(OutputLine.COIL_FIRE));
    subjects.put("keep", p -> bothAlike(p.kept()));
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

  @Test
  void permitsExactlyWhatTheTableSaysInEveryRow() throws IOException {
    List<PermissionTable.Line> table = PermissionTable.read();
    StringBuilder counts = new StringBuilder();
    for (Map.Entry<String, Predicate<Permission>> subject : SUBJECTS.entrySet()) {
      PermissionTable.Line[] saysYes = verdicts(linesOf(table, subject.getKey()), true);
      int yes = 0;
      int differences = 0;
      for (int row = 0; row < PermissionRow.COUNT; row++) {
        boolean permitted = subject.getValue().test(Permissive.of(new PermissionRow(row)));
        yes += permitted ? 1 : 0;
        differences += permitted == fits(saysYes, row) ? 0 : 1;
      }
      counts.append(
          String.format(
              "  %-8s %9d rows, %7d yes, %d differences%n",
              subject.getKey(), PermissionRow.COUNT, yes, differences));
      assertThat(differences).as(subject.getKey()).isZero();
    }
    System.out.println("permission table against the program:\n" + counts);
  }

  @Test
  void givesEveryRowExactlyOneVerdict() throws IOException {
    List<PermissionTable.Line> table = PermissionTable.read();
    for (String subject : SUBJECTS.keySet()) {
      List<PermissionTable.Line> lines = linesOf(table, subject);

      PermissionTable.Line[] yes = verdicts(lines, true);
      PermissionTable.Line[] no = verdicts(lines, false);
      for (int row = 0; row < PermissionRow.COUNT; row++) {
        if (fits(yes, row) == fits(no, row)) {
          throw new AssertionError(
              subject + " has no verdict or two in row " + new PermissionRow(row).unmet(-1));
        }
      }
    }
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
