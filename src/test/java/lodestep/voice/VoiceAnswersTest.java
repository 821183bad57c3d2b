package lodestep.voice;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.config.ReferenceRig;
import lodestep.magnet.Against;
import lodestep.paper.BuildNotes;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import org.junit.jupiter.api.Test;

/** Goal: what is said of a pickup is read alike in every answer, or refused. */
class VoiceAnswersTest {

  private static final PickupAsked ASKED = new PickupAsked(ReferenceRig.virtual(), "--");
  private static final LocalDate TODAY = LocalDate.of(2026, 5, 4);
  private static final String PAIR = "0.25 E4; 0.33 B3";

  private static PickupWords rod(Said field, String words) {
    return new PickupWords(
            Map.of(Said.ALLOY, "alnico 3", Said.SIZE, "4.6 x 15.5 mm", Said.STRINGS, PAIR))
        .with(field, words);
  }

  private static LevelPlan plan(PickupWords words, String levels) {
    return LevelPlan.of(
        ASKED,
        words,
        new LevelPlan.Asked("linnet", levels, "9 G", "1.5 %", Optional.of("linnet-rw")));
  }

  private static String text(Told told) {
    StringBuilder text = new StringBuilder();
    told.passages().forEach(each -> text.append(each).append('\n'));
    return text.toString();
  }

  /** The strings are written the highest first, the rows of a plan stand the lowest first. */
  @Test
  void readsPolesInTheOrderOfTheStringsAndSaysWhichRowIsForWhich() {
    PickupWords words = rod(Said.POLES_UP, "north; south");

    List<LevelPlan.Row> rows = plan(words, "361 G; 372 G").rows();

    assertThat(rows)
        .extracting(LevelPlan.Row::poleUp)
        .containsExactly("south", "north", "north", "south");
    assertThat(rows).extracting(LevelPlan.Row::target).startsWith("361.0 G", "372.0 G");
    assertThat(rows)
        .extracting(LevelPlan.Row::name)
        .containsExactly("linnet-1-B3", "linnet-2-E4", "linnet-rw-1-B3", "linnet-rw-2-E4");
    assertThatThrownBy(() -> plan(words, "361 G; 372 G; 380 G"))
        .hasMessageContaining("--poles-up", "order", "--strings");
  }

  /** A level below zero is one of south, the lowest string first. */
  @Test
  void takesPolesFromANotesLevels() {
    PickupWords words = rod(Said.DISTANCE, "2.8 mm");
    NoteAsked.Made made = made(words, "2026-05-01", "-361 G; 372 G");

    assertThat(LevelPlan.poles(ASKED, words, made.note()).get(Said.POLES_UP))
        .isEqualTo("north; south");
  }

  private static NoteAsked.Made made(PickupWords words, String day, String levels) {
    return NoteAsked.made(
        ASKED,
        words,
        new NoteAsked.Written(day, "Linnet", "", levels, "", "", ""),
        NoteAsked.Linked.NOTHING,
        NoteAsked.Judged.here(TODAY));
  }

  @Test
  void tellsLevelAndInductanceTogetherWhereverACoilIsSaid() {
    VoicedPickup measured = ASKED.pickup(rod(Said.INDUCTANCE, "6 H"));
    StringsAnswer strings = StringsAnswer.of(measured, measured.full());

    assertThat(text(strings.told())).contains("together: ", "a coil of 6.0 H");
    PickupWords turns =
        rod(Said.TURNS, "7600").with(Said.WINDING, "11 x 3.6 mm").with(Said.CORES, "4.6 x 15.5 mm");
    assertThat(text(StringsAnswer.of(ASKED.pickup(turns), measured.full()).told()))
        .contains("reckoned from the turns", "together: ");
    assertThat(ASKED.pickup(rod(Said.TURNS, "7600")).coil().notes().toString())
        .contains("--winding, --cores");
  }

  @Test
  void refusesWhatIsWrongOfACoilEvenWhereItIsNotNeeded() {
    for (Said field :
        List.of(
            Said.INDUCTANCE,
            Said.TURNS,
            Said.WINDING,
            Said.CORES,
            Said.CORES_OF,
            Said.COUNT,
            Said.RESISTANCE,
            Said.CAPACITANCE,
            Said.LOAD)) {
      assertThatThrownBy(() -> ASKED.pickup(rod(field, "plum")))
          .as(field.word())
          .isInstanceOf(IllegalArgumentException.class)
          .hasMessageStartingWith("--" + field.word());
    }
  }

  /** Each by the field that is wrong, with what can be. */
  @Test
  void saysWhatAFigureCanBeAndWhichFieldIsWrong() {
    for (String[] wrong :
        List.of(
            new String[] {"distance", "0.1 mm", "touches the pole", "more than 0.13 mm"},
            new String[] {"distance", "-2 mm", "touches the pole", "more than"},
            new String[] {"distance", "90 mm", "up to 20.00 mm", "90.00 mm"},
            new String[] {"from-bridge", "0 mm", "between the bridge", "0 mm"},
            new String[] {"from-bridge", "639 mm", "fingerboard", "320.00 mm"},
            new String[] {"scale", "5 mm", "100.0 to 950.0 mm", "scale length"},
            new String[] {"inductance", "1 mH", "0.05 to 30 H", "not 1 mH"},
            new String[] {"inductance", "0 H", "out of range", "0.05 to 30 H"},
            new String[] {"capacitance", "1 F", "10 pF to 20 nF", "1 F"},
            new String[] {"resistance", "2 ohm", "50 ohm to 60 kohm", "not 2 ohm"},
            new String[] {"load", "10 ohm", "10 kohm to 100 Mohm", "not 10 ohm"})) {
      assertThatThrownBy(() -> ASKED.pickup(rod(Said.of(wrong[0]).orElseThrow(), wrong[1])))
          .as(wrong[0] + " " + wrong[1])
          .hasMessageStartingWith("--" + wrong[0] + ": ")
          .hasMessageContaining(wrong[2], wrong[3]);
    }
    PickupWords turns =
        rod(Said.TURNS, "5").with(Said.WINDING, "11 x 3.6 mm").with(Said.CORES, "4.6 x 15.5 mm");
    assertThatThrownBy(() -> ASKED.pickup(turns))
        .hasMessage("--turns: the number of turns is 100 to 30000, not 5");
    assertThatThrownBy(() -> ASKED.pickup(rod(Said.STRINGS, "0.05 E4")))
        .hasMessageContaining("diameter of 0.05 mm");
  }

  /** Levels are written the lowest string first, and each string is told over its own. */
  @Test
  void tellsEachStringOverALevelOfItsOwn() {
    VoicedPickup pair = ASKED.pickup(rod(Said.POLES_UP, "north"));
    Levels levels = pair.levels("--", "330 G; 372 G");

    StringsAnswer own = StringsAnswer.of(pair, levels);
    StringsAnswer alike = StringsAnswer.of(pair, FluxDensity.ofGauss(351));

    assertThat(levels.at(0)).isEqualTo(FluxDensity.ofGauss(372));
    assertThat(own.dialed().gauss()).isCloseTo(351, within(1e-9));
    assertThat(text(own.told())).contains("Levels 330.0 G; 372.0 G, the lowest string first");
    // Fields go by the levels, but for what a neighbour adds.
    double apart = field(own, 0) / field(own, 1) / (field(alike, 0) / field(alike, 1));
    assertThat(apart).isCloseTo(372 / 330.0, within(0.02));
    assertThat(StringsAnswer.of(pair, pair.levels("", "351 G")).rows()).isEqualTo(alike.rows());
    assertThatThrownBy(() -> pair.levels("--", "330 G; 350 G; 360 G"))
        .hasMessageStartingWith("--level: 3 for 2 strings");
    assertThatThrownBy(() -> pair.levels("--", "330 G; 9 kG")).hasMessageContaining("reads up to");
    assertThatThrownBy(() -> pair.levels("--", "330 G; x")).hasMessageStartingWith("--level: 'x'");
    VoicedPickup bar = ASKED.pickup(rod(Said.SHAPE, "bar").with(Said.SIZE, "57 x 11 x 3.1 mm"));
    assertThatThrownBy(() -> bar.levels("--", "330 G; 350 G")).hasMessageContaining("one bar");
  }

  private static double field(StringsAnswer answer, int string) {
    return answer.rows().get(string).pull().fieldTesla();
  }

  /** A plan is refused in the words of whoever asked for it. */
  @Test
  void plansTheSpreadOfASetAndRefusesOneThatMatchesNothing() {
    PickupWords words = rod(Said.POLES_UP, "north");

    assertThat(plan(words, "361 G; 372 G").rows())
        .extracting(LevelPlan.Row::spread)
        .containsOnly("1.5 %")
        .hasSize(4);
    assertThatThrownBy(() -> plan(words, "361 G"))
        .hasMessageStartingWith("--spread: of one magnet");
    LevelPlan.Asked wide =
        new LevelPlan.Asked("linnet", "361 G; 372 G", "9 G", "150 %", Optional.empty());
    assertThatThrownBy(() -> LevelPlan.of(ASKED, words, wide))
        .hasMessageStartingWith("--spread: a spread of 150 %");
  }

  /** The winding of a wound string touches first, not its core. */
  @Test
  void refusesAWindingThatTouchesThePoleAndGaugesThatNobodyMakes() {
    SteelString wound =
        SteelString.wound(Length.ofMm(1.17), Length.ofMm(0.46), Length.ofMm(640), 82.4);

    assertThatThrownBy(() -> StringPull.requireAbove(0.55e-3, wound)).hasMessageContaining("1.17");
    StringPull.requireAbove(0.6e-3, wound);
    Length scale = Length.ofMm(640);
    assertThatThrownBy(() -> StringSet.read("0.95 E2", scale)).hasMessageContaining("plain");
    assertThatThrownBy(() -> StringSet.read("1.5/0.3 E2", scale)).hasMessageContaining("times");
    assertThatThrownBy(() -> StringSet.read("4.2/1.5 E1", scale)).hasMessageContaining("outside");
    for (CommonSizes.Kind kind : CommonSizes.all()) {
      kind.sizes().stream()
          .filter(any -> kind.field() == Said.STRINGS)
          .forEach(each -> StringSet.read(each, Length.ofMm(each.contains("G2") ? 865 : 640)));
    }
  }

  /** Textbook: 1/(2&pi;&radic;(LC)) needs neither resistance nor load. 1 H and 1 nF: 5032.9 Hz. */
  @Test
  @Against(Against.Kind.ANOTHER_WAY)
  void ringsInPartWithoutResistanceAndLoad() {
    PickupWords words = rod(Said.INDUCTANCE, "1 H").with(Said.CAPACITANCE, "1000 pF");

    CoilAnswer answer = CoilAnswer.of(ASKED, words);

    assertThat(answer.rings().get(0).hertz()).isCloseTo(5_032.9, within(0.1));
    assertThat(answer.unsaid()).containsExactly(Said.RESISTANCE, Said.LOAD);
    assertThat(text(answer.told())).contains("in part", "5033 Hz", "the load", "the resistance");
    assertThat(answer.told().plots()).isEmpty();
    CoilAnswer whole =
        CoilAnswer.of(ASKED, words.with(Said.RESISTANCE, "1 kohm").with(Said.LOAD, "210 kohm"));
    assertThat(whole.unsaid()).isEmpty();
    assertThat(whole.drawn().toldAcross(whole.drawn().curves().get(0).x().get(0)))
        .isCloseTo(100, within(1e-6));
  }

  /** One statement: what does not hold beside its neighbours is not said to hold. */
  @Test
  void doesNotSayThatALevelHoldsWhichItsNeighboursTake() {
    PickupWords words = rod(Said.STRINGS, StringSet.USUAL).with(Said.ALLOY, "alnico 2");
    VoicedPickup full = ASKED.pickup(words);
    PickupField.Settled settled = full.field().settled(full.full());

    assertThat(settled.holds()).isFalse();
    assertThat(settled.comesTo()).isLessThan(full.full());
    InsteadAnswer same = InsteadAnswer.of("--", full, full.full(), full);
    assertThat(text(same.told())).contains("does not hold it").doesNotContain("It can hold");
    PickupField.Settled knocked = full.field().settled(new FluxDensity(0.6 * full.full().tesla()));
    assertThat(knocked.holds()).isTrue();
    assertThat(knocked.comesTo().tesla()).isEqualTo(0.6 * full.full().tesla());
  }

  @Test
  void leavesOutFretsThatStopTheStringOverThePole() {
    VoicedPickup near = ASKED.pickup(rod(Said.FROM_BRIDGE, "245 mm"));

    StringsAnswer answer = StringsAnswer.of(near, near.full());

    assertThat(answer.frets()).containsExactly(0, 5, 12);
    assertThat(answer.rows().get(0).pulls()).hasSize(3);
    assertThat(text(answer.told())).contains("Left out: stopped at fret 17, 19");
    assertThat(answer.plots())
        .extracting(StringsAnswer.Swept::name)
        .containsExactly("cents", "field", "gradient", "pull", "beats", "signal", "neck");
    assertThat(answer.plots().get(6).plot().curves())
        .extracting(curve -> curve.name())
        .containsExactly("open string", "fret 12");
  }

  @Test
  void notesNothingThatCannotBe() {
    PickupWords pair = rod(Said.POLES_UP, "north");
    assertThatThrownBy(() -> made(pair, "2026-05-05", "361 G; 372 G"))
        .hasMessageContaining("--day");
    assertThatThrownBy(() -> made(pair, "2026-05-01", "361 G; 2400 G"))
        .hasMessageContaining("fully charged");
    assertThatThrownBy(() -> made(pair, "2026-05-01", "361 G; 0 G"))
        .hasMessageContaining("more than nothing");
    assertThatThrownBy(() -> made(pair, "2026-05-01", "361 G"))
        .hasMessageContaining("1 for 2 strings");
    for (Said field : List.of(Said.DISTANCE, Said.FROM_BRIDGE, Said.PITCH)) {
      String wrong = field == Said.FROM_BRIDGE ? "700 mm" : "0.1 mm";
      assertThatThrownBy(() -> made(pair.with(field, wrong), "2026-05-01", "361 G; 372 G"))
          .hasMessageStartingWith("--" + field.word());
    }
  }

  /** A level is nothing without the distance at which it was read. */
  @Test
  void keepsTheStandOffThatLevelsAreReadAt() {
    NoteAsked.Made made = made(rod(Said.POLES_UP, "north"), "2026-05-01", "361 G; 372 G");
    BuildNotes.Note note = new BuildNotes.Note(7, made.note(), made.described());

    assertThat(Length.parse(PickupWords.of(note).get(Said.STAND_OFF)))
        .isEqualTo(ASKED.nestStandOff(PickupWords.of(note)).orElseThrow());
    BuildNotes known = new BuildNotes(List.of(note));
    assertThat(known.knows(made.note(), made.described())).isTrue();
    assertThat(known.knows(made.note(), Optional.empty())).isTrue();
    NoteAsked.Made edited = made(rod(Said.DISTANCE, "2.5 mm"), "2026-05-01", "361 G; 372 G");
    assertThat(known.knows(edited.note(), edited.described())).as("edited").isFalse();
  }

  @Test
  void namesALinkThatIsNotOnThisRecord() {
    NoteAsked.Made linked =
        NoteAsked.made(
            ASKED,
            rod(Said.POLES_UP, "north"),
            new NoteAsked.Written("2026-05-01", "Linnet", "", "361 G; 372 G", "", "", "hers"),
            new NoteAsked.Linked("linnet", 12, 0),
            NoteAsked.Judged.here(TODAY));

    NoteAsked.Here here = NoteAsked.Here.of(linked, Optional.empty());

    assertThat(here.missing()).containsExactly("set linnet", "pickup 12");
    assertThat(here.made().note().set()).isEmpty();
    assertThat(here.made().note().said()).isEqualTo("hers; set linnet, pickup 12 not found here");
  }

  @Test
  void tellsSmallFiguresPlainlyAndInductanceByDegrees() {
    assertThat(PullTable.signed(-0.001)).isEqualTo("0.00");
    assertThat(PullTable.signed(-0.014)).isEqualTo("-0.01");
    assertThat(PullTable.decibels(-0.01)).isEqualTo("0.0 dB");
    assertThat(PullTable.hertz(0.0004)).isEqualTo("less than 0.001 Hz");
    assertThat(PullTable.cents(0.004)).isEqualTo("less than 0.01 cents");
    assertThat(LevelHeard.ofInductance(3.19)).contains("fairly bright");
    assertThat(LevelHeard.ofInductance(3.21)).contains("fairly bright");
    assertThat(LevelHeard.ofInductance(4)).contains("a little warm");
  }
}
