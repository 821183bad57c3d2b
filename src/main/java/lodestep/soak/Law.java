package lodestep.soak;

import java.util.List;
import java.util.stream.Stream;

/**
 * Something that must hold in every run; the same list stands in {@code safety/invariants.md}, and
 * a test compares the two. Any thread, immutable.
 *
 * @param id its number, which stands in saved runs and is never given a second meaning
 * @param words what must hold, half a sentence
 */
record Law(String id, String words) {

  static final Law RECORD_WHOLE =
      new Law("INV-18", "the record is whole after every end of the program");
  static final Law ROWS_KEPT = new Law("INV-19", "no acknowledged row ever disappears");
  static final Law TRIP_KEPT =
      new Law("INV-20", "a trip stands over a restart exactly when it is on record and not reset");
  static final Law HOST_WORKS = new Law("INV-25b", "no scan throws and no job fails");
  static final Law NO_NUISANCE = new Law("NUI", "nothing trips a sound rig");
  static final Law READY_AGAIN =
      new Law("LIV-1", "with everything mended, one reset makes the rig ready within 10 s");
  static final Law WORKS_ON =
      new Law(
          "LIV-2",
          "on a mended rig the next magnet comes to its verdict within 5 min, on a jig 20");

  /** Laws that are not judged millisecond by millisecond. */
  private static final List<Law> OTHERS =
      List.of(RECORD_WHOLE, ROWS_KEPT, TRIP_KEPT, HOST_WORKS, NO_NUISANCE, READY_AGAIN, WORKS_ON);

  /** Every law, those of the rules first. */
  static List<Law> all() {
    Stream<Law> rules =
        Stream.of(
                FireRules.all(),
                SwitchedRules.all(),
                JigRules.all(),
                BankRules.all(),
                HostRules.all(),
                RecordRules.all())
            .flatMap(List::stream)
            .map(Rule::law);
    return Stream.concat(rules, OTHERS.stream()).toList();
  }
}
