package lodestep.app;

import static lodestep.app.CommandRun.on;
import static lodestep.app.CommandRun.run;
import static lodestep.app.CommandRun.with;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import lodestep.app.CommandRun.Ended;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Goal: what a level means to the strings is told with its range, and custom as custom. */
class VoiceCommandsTest {

  private static final String[] ROD = {
    "voice", "strings", "--alloy", "alnico 3", "--size", "4.6 x 15.5 mm"
  };
  private static final String[] POLES = {
    "voice",
    "strings",
    "--alloy",
    "alnico 2",
    "--shape",
    "bar",
    "--size",
    "57 x 11 x 3.1 mm",
    "--poles",
    "4.6 x 14 mm",
    "--keeper",
    "57 x 6 x 4 mm"
  };
  private static final String[] COIL = {
    "voice", "coil", "--inductance", "3.4 H", "--resistance", "6.9 kohm", "--load", "210 kohm"
  };

  @TempDir private Path folder = Path.of("");

  private Ended voice(String... arguments) {
    return on(folder.resolve("none.db"), arguments);
  }

  @Test
  void goesByTheSquareOfTheField() throws IOException {
    JsonNode full = voice(with(ROD, "--json")).json();
    double level = full.get("fullChargeTesla").asDouble() / 2;
    JsonNode half = voice(with(ROD, "--json", "--level", level * 1e3 + " mT")).json();

    double field = field(half) / field(full);
    // A knocked-down magnet is weaker at its faces than deep inside: not quite half at the strings.
    assertThat(field).isBetween(0.45, 0.52);
    double cents = full.get("strings").get(0).get("cents").asDouble();
    assertThat(cents).isBetween(-1.0, -0.01);
    assertThat(half.get("strings").get(0).get("cents").asDouble() / cents)
        .isCloseTo(field * field, within(0.02));
    JsonNode sweep = full.get("sweep");
    assertThat(sweep.get(0).get("signalDecibels").asDouble()).isZero();
    assertThat(sweep.get(5).get("signalDecibels").asDouble()).isBetween(-7.0, -5.5);
    // Up the neck the pole comes nearer to the middle of what still vibrates.
    JsonNode frets = full.get("strings").get(0).get("frets");
    assertThat(frets.get(2).get("cents").asDouble()).isNotEqualTo(cents);
  }

  private static double field(JsonNode document) {
    return document.get("strings").get(0).get("fieldTesla").asDouble();
  }

  @Test
  void marksWhatIsCustom() {
    Path drawn = folder.resolve("strings.svg");
    Ended strings = voice(with(ROD, "--plot", drawn.toString()));

    assertThat(strings.code()).as(strings.err()).isZero();
    assertThat(strings.out())
        .contains("E4", "G/mm", "Out of tune along the neck", "resolved", "no source");
    assertThat(drawn).exists();
    for (String quantity : List.of("field", "gradient", "pull", "beats", "signal", "neck")) {
      assertThat(folder.resolve("strings-" + quantity + ".svg")).exists();
    }
    Ended coil = run(with(COIL, "--capacitance", "640 pF"));
    assertThat(coil.out())
        .containsPattern("Peak of \\+[0-9.]+ dB at 3[0-9]{3} Hz")
        .contains("warm");
  }

  @Test
  void takesABarWithPolesAndAKeeper() throws IOException {
    JsonNode poles = voice(with(POLES, "--json")).json();

    assertThat(poles.get("validity").asText()).contains("approximation", "Finite elements");
    assertThat(poles.get("steelTesla").asDouble()).isBetween(0.05, 1.4);
    assertThat(poles.get("strings").size()).isEqualTo(6);
    assertThat(field(poles)).isBetween(0.003, 0.06);
  }

  @Test
  void saysWhatToTryForSustainAndWhatIsOnlyCustom() throws IOException {
    String[] sustain = ROD.clone();
    sustain[1] = "sustain";
    JsonNode tries = voice(with(sustain, "--json")).json();
    JsonNode first = tries.get("tries").get(0);
    assertThat(first.get("pullNewtons").asDouble()).isLessThan(tries.get("pullNewtons").asDouble());
    assertThat(first.get("signalDecibels").asDouble()).isNegative();

    Ended words = voice(with(sustain, "--inductance", "6 H"));
    assertThat(words.out()).contains("lowered by", "Computed:", "no source", "longer sustain");
  }

  /** The replacing magnet gives the strings the same field, and differs off the pole. */
  @Test
  void findsTheLevelAtWhichStringsSeeTheSame() throws IOException {
    String[] instead = ROD.clone();
    instead[1] = "instead";
    JsonNode found = voice(with(instead, "--level", "390 G", "--by", "alnico 5", "--json")).json();

    JsonNode at = found.get("above").get(2);
    assertThat(at.get("tesla").asDouble())
        .isCloseTo(at.get("replacedTesla").asDouble(), within(1e-5));
    JsonNode near = found.get("above").get(0);
    assertThat(near.get("tesla").asDouble()).isNotEqualTo(near.get("replacedTesla").asDouble());
    Ended weak = voice(with(instead, "--by", "sintered alnico 2", "--level", "0 G"));
    assertThat(weak.code()).isEqualTo(2);
    String[] strong = {
      "voice", "instead", "--alloy", "alnico 5", "--size", "4.6 x 15.5 mm", "--by", "alnico 3"
    };
    assertThat(voice(strong).err()).contains("does not hold it").hasLineCount(1);
  }

  @Test
  void answersInPartWhatIsMissing() throws IOException {
    String[] bare = {"voice", "coil", "--resistance", "6.9 kohm", "--load", "210 kohm"};
    assertThat(run(bare).err()).contains("both missing").hasLineCount(1);
    Ended part = run(with(bare, "--capacitance", "640 pF"));
    assertThat(part.code()).isZero();
    assertThat(part.out()).contains("inductance is missing", "--turns", "8.00 H");
    JsonNode turns =
        run(with(
                bare,
                "--capacitance",
                "640 pF",
                "--turns",
                "7600",
                "--winding",
                "11 x 3.6 mm",
                "--cores",
                "4.6 x 15.5 mm",
                "--cores-of",
                "alnico 3",
                "--json"))
            .json();
    assertThat(turns.get("inductanceHenries").asDouble()).isBetween(2.0, 4.0);
    assertThat(run(COIL).out()).contains("capacitance is missing");
  }

  @Test
  void notesWhatWasMadeAndFindsItAgain() {
    Path ledger = folder.resolve("notes.db");
    String[] made = {
      "voice",
      "made",
      "Plover 12",
      "--day",
      "2026-05-01",
      "--alloy",
      "alnico 3",
      "--size",
      "4.6 x 15.5 mm",
      "--levels",
      "383.17 G; -391 G",
      "--tolerance",
      "9 G",
      "--liked-by",
      "Hollis"
    };
    assertThat(on(ledger, made).code()).isZero();
    Path out = folder.resolve("notes.csv");
    assertThat(on(ledger, "voice", "notes", "--to", out.toString()).code()).isZero();
    assertThat(on(ledger, "voice", "notes", "--from", out.toString()).out()).contains("0 new");
    assertThat(on(folder.resolve("other.db"), "voice", "notes", "--from", out.toString()).out())
        .contains("1 new");
    assertThat(on(folder.resolve("other.db"), "voice", "notes").out())
        .contains("Plover 12", "383.2 G; -391.0 G", "liked by Hollis");
    assertThat(on(ledger, with(ROD, "--level", "390 G")).out())
        .contains("Past builds that come nearest", "Plover 12");
    assertThat(
            on(ledger, "voice", "strings", "--like", "plover 12", "--strings", "0.25 E4; 0.33 B3"))
        .satisfies(told -> assertThat(told.err()).isEmpty())
        .satisfies(told -> assertThat(told.out()).contains("Levels 383.2 G; 391.0 G, the lowest"));
    assertThat(on(ledger, with(made, "--set", "nowhere")).code()).isEqualTo(2);
    made[4] = "May";
    assertThat(on(ledger, made).err()).contains("2026-05-01").hasLineCount(1);
  }

  private static final String[] PIPIT = {
    "--poles-up", "south", "--distance", "3.1 mm", "--strings", "0.33 B3"
  };

  private static String[] pipit(String... more) {
    String[] made = {
      "voice",
      "made",
      "--alloy",
      "alnico 3",
      "--size",
      "4.6 x 15.5 mm",
      "Pipit 4",
      "--position",
      "bridge",
      "--day",
      "2026-05-02",
      "--levels",
      "300 G"
    };
    String[] coil = {
      "--inductance", "3.4 H", "--resistance", "6.9 kohm", "--capacitance", "640 pF"
    };
    return with(with(with(with(made, coil), "--load", "210 kohm"), PIPIT), more);
  }

  /** What a note keeps of poles, strings and coil need not be typed again, and goes with a file. */
  @Test
  void describesAPickupLikeAPastBuild() throws IOException {
    Path ledger = folder.resolve("like.db");
    assertThat(on(ledger, pipit()).code()).isZero();

    JsonNode typed = on(ledger, with(with(ROD, PIPIT), "--level", "300 G", "--json")).json();
    JsonNode like = on(ledger, "voice", "strings", "--like", "Pipit 4, bridge", "--json").json();
    assertThat(like).isEqualTo(typed);
    assertThat(on(ledger, "voice", "coil", "--like", "pipit 4").out()).contains("Coil of 3.40 H");
    assertThat(on(ledger, "voice", "strings", "--like", "pipit 4", "--distance", "2 mm").out())
        .contains("strings 2.00 mm above");

    Path file = folder.resolve("like.csv");
    assertThat(on(ledger, "voice", "notes", "--to", file.toString()).code()).isZero();
    Path other = folder.resolve("other.db");
    assertThat(on(other, "voice", "notes", "--from", file.toString()).out()).contains("1 new");
    assertThat(on(other, "voice", "strings", "--like", "Pipit 4", "--json").json())
        .isEqualTo(typed);
  }

  @Test
  void refusesADescriptionThatNobodyCanReadAndAPastBuildThatIsNone() {
    Path ledger = folder.resolve("none like.db");
    assertThat(on(ledger, pipit("--pitch", "wide")).err()).contains("--pitch").hasLineCount(1);
    assertThat(on(ledger, "voice", "strings", "--like", "Pipit 5").err())
        .contains("no build is noted yet")
        .hasLineCount(1);
    assertThat(on(ledger, pipit()).code()).isZero();
    assertThat(on(ledger, "voice", "strings", "--like", "Pipit 5").err())
        .contains("no build 'Pipit 5' is noted", "Pipit 4")
        .hasLineCount(1);
    assertThat(on(ledger, "voice", "strings").err()).contains("--like").hasLineCount(1);
  }

  /** A thousand rows are one start of the program and one commit. */
  @Test
  void takesManyNotesInOneRun() throws IOException {
    Path ledger = folder.resolve("many.db");
    StringBuilder text = new StringBuilder("day,name,alloy,shape,size,levels\n");
    for (int row = 0; row < 1_000; row++) {
      text.append("2026-03-02,Dunlin ").append(row).append(",alnico 2,rod,4.6 x 15.5 mm,310 G\n");
    }
    Path file = Files.writeString(folder.resolve("many.csv"), text);

    assertThat(on(ledger, "voice", "notes", "--from", file.toString()).out())
        .contains("1000 new notes");

    assertThat(on(ledger, "voice", "notes", "--json").json().size()).isEqualTo(1_000);
    assertThat(on(ledger, "prove").out()).contains("whole: 1005 events");
    assertThat(on(ledger, "voice", "notes", "--from", file.toString()).out()).contains("0 new");
  }

  /** Of a file with one wrong row nothing is taken, and the row is named. */
  @Test
  void takesAFileOfNotesWholeOrNotAtAll() throws IOException {
    Path ledger = folder.resolve("file.db");
    Path file = folder.resolve("typed.csv");
    String head = "\ufeffname,day,alloy,shape,size,levels\n";
    String good = "Dunlin,2026-03-02,alnico 2,bar,57 x 11 x 3.1 mm,310 G\n";
    Files.writeString(file, head + good + "Wren,2026-03-03,alnico 2,rod,4.6 x 15.5 mm,many\n");
    assertThat(on(ledger, "voice", "notes", "--from", file.toString()).err())
        .contains("row 3, levels")
        .hasLineCount(1);
    assertThat(on(ledger, "voice", "notes").out()).contains("Nothing is noted yet");
    Files.writeString(file, head + good);
    assertThat(on(ledger, "voice", "notes", "--from", file.toString()).out()).contains("1 new");
    Files.writeString(file, "name,day\nDunlin,2026-03-02\n");
    assertThat(on(ledger, "voice", "notes", "--from", file.toString()).err())
        .contains("no column 'alloy'");
  }

  @Test
  void aChoiceBecomesAPlanAndADialedSetTellsBack() throws IOException {
    Path ledger = folder.resolve("set.db");
    Path plan = folder.resolve("pair.csv");
    Ended planned =
        on(
            ledger,
            "voice",
            "plan",
            "pair",
            "--alloy",
            "alnico 3",
            "--size",
            "4.6 x 15.5 mm",
            "--levels",
            "385 G",
            "--tolerance",
            "9 G",
            "--pole-up",
            "north",
            "--reverse",
            "pair-rw",
            "--to",
            plan.toString());
    assertThat(planned.code()).as(planned.err()).isZero();
    assertThat(Files.readString(plan)).contains("pair-rw,pair-rw", "south");
    assertThat(on(ledger, "batch", plan.toString()).code()).isZero();

    JsonNode reached =
        on(ledger, "voice", "reached", "pair-rw", "--strings", "0.25 E4; 0.33 B3", "--json").json();

    JsonNode low = reached.get("strings").get(0);
    assertThat(low.get("note").asText()).isEqualTo("B3");
    assertThat(low.get("levelTesla").asDouble()).isCloseTo(0.0385, within(0.0009));
    assertThat(low.get("signalDecibels").asDouble()).isBetween(-3.5, 0.0);
    assertThat(on(ledger, "voice", "reached", "nobody").code()).isEqualTo(2);
    tellsTheCoilOfANotedSetWithItsLevel(ledger);
  }

  private static void tellsTheCoilOfANotedSetWithItsLevel(Path ledger) {
    String[] made = {
      "voice", "made", "Wren 9", "--alloy", "alnico 3", "--size", "4.6 x 15.5 mm", "--day"
    };
    String[] how = {"2026-05-04", "--levels", "385 G", "--set", "pair-rw", "--inductance", "4.2 H"};
    assertThat(on(ledger, with(made, how)).code()).isZero();
    assertThat(on(ledger, "voice", "reached", "pair-rw", "--strings", "0.25 E4; 0.33 B3").out())
        .contains("a coil of 4.2 H", "together: ");
  }

  @Test
  void refusesAChoiceThatCannotBeDialed() {
    Path ledger = folder.resolve("none.db");
    String[] plan = {
      "voice", "plan", "x", "--alloy", "alnico 3", "--size", "4.6 x 15.5 mm", "--tolerance", "9 G"
    };
    for (Ended refused :
        List.of(
            on(ledger, with(plan, "--levels", "9000 G", "--pole-up", "north")),
            on(ledger, with(plan, "--levels", "385 G", "--pole-up", "up")),
            on(ledger, with(plan, "--levels", "385 G;380 G;1 G", "--poles-up", "north;south")),
            on(ledger, with(plan, "--levels", "385 G", "--pole-up", "north", "--reverse", "X")))) {
      assertThat(refused.code()).as(refused.out()).isEqualTo(2);
    }
  }

  @Test
  void refusesWhatNobodyStringsOrWinds() {
    for (Ended refused :
        List.of(
            voice(with(ROD, "--strings", "0.25 E8")),
            voice(with(ROD, "--strings", "fat")),
            voice(with(ROD, "--distance", "0.05 mm")),
            voice(with(ROD, "--from-bridge", "700 mm")),
            voice(with(ROD, "--level", "3000 G")),
            voice(with(ROD, "--poles", "4.6 x 14 mm")),
            voice(with(ROD, "--keeper", "57 x 6 x 4 mm")),
            voice(with(POLES, "--arranged", "beside")),
            voice(with(POLES, "--arranged", "under one row")),
            run(with(COIL, "--capacitance", "640 mF")))) {
      assertThat(refused.code()).isEqualTo(2);
      assertThat(refused.err()).startsWith("lodestep: ").hasLineCount(1);
    }
  }
}
