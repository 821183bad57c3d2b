package lodestep.config;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** [jig], and what charges and what knocks down. */
class JigReaderTest {

  private static String shipped(String name) throws IOException {
    String repository = System.getProperty("lodestep.repository", ".");
    return Files.readString(Path.of(repository, "firmware-host", "board", name));
  }

  private static List<String> problems(String text) {
    return RigFile.read("rig.toml", text)
        .match(
            rig -> {
              throw new AssertionError("was taken: " + rig.sources());
            },
            problems -> problems);
  }

  @Test
  void readsARigWithAJigAndNoCoil() throws IOException {
    RigConfig rig = RigFileTest.rig(shipped("rig-virtual-jig.toml"));

    assertThat(rig.hasBank()).isFalse();
    assertThat(rig.headAlone()).isFalse();
    assertThat(rig.coils()).isEmpty();
    assertThat(rig.nests().get(0).coil()).isEmpty();
    assertThat(rig.sources().charge()).isEqualTo(ChargeBy.HAND);
    assertThat(rig.sources().knockDown()).isEqualTo(KnockDownBy.JIG);
    assertThat(rig.jig().orElseThrow().magnet().northFaces()).isFalse();
    assertThat(rig.jig().orElseThrow().screw().stepMetres() * 1e6).isEqualTo(1.25);
  }

  @Test
  void readsARigWithBothAndSaysSoInWords() throws IOException {
    RigConfig rig = RigFileTest.rig(shipped("rig-virtual-coil-and-jig.toml"));

    assertThat(rig.hasBank()).isTrue();
    assertThat(rig.sources().charge()).isEqualTo(ChargeBy.COIL);
    assertThat(rig.sources().knockDown()).isEqualTo(KnockDownBy.JIG);
    assertThat(RigFile.show(rig)).contains("charges by coil; knocks down by jig", "1.25 µm a step");
  }

  @Test
  void takesWhatTheRigHasWhenNothingIsSaid() throws IOException {
    String text = shipped("rig-virtual-jig.toml").replaceAll("(?m)^(charge|knock_down) =.*\n", "");

    assertThat(RigFileTest.rig(text).sources())
        .isEqualTo(RigFileTest.rig(shipped("rig-virtual-jig.toml")).sources());
    assertThat(ReferenceRig.virtual().sources()).isEqualTo(Sources.COIL);
  }

  @ParameterizedTest
  @CsvSource({
    "'pitch = \"2.0 mm\"', 'pitch = \"2.5 mm\"', does not hold when its motor is off",
    "'pitch = \"2.0 mm\"', 'pitch = \"2.0\"', has no unit",
    "steps_per_turn = 1600, steps_per_turn = 40, take more steps a turn",
    "'travel = \"78 mm\"', 'travel = \"93 mm\"', would strike it",
    "'park = \"2.0 mm\"', 'park = \"0.5 mm\"', must be 1.00 mm to",
    "'park = \"2.0 mm\"', 'park = \"40 mm\"', next to home",
    "speed_mm_per_second = 8, speed_mm_per_second = 11, at most 10",
    "'smallest_gap = \"3.0 mm\"', 'smallest_gap = \"0.2 mm\"', smallest_gap",
    "'travel_budget = \"6 m\"', 'travel_budget = \"0.2 m\"', less than two strokes",
    "'magnet_remanence = \"1.26 T\"', 'magnet_remanence = \"2 T\"', at most 1.6 T",
    "'magnet_faces_work = \"south\"', 'magnet_faces_work = \"sout\"', did you mean 'south'?",
    "'highest_temperature = \"60 °C\"', 'highest_temperature = \"90 °C\"', loses strength",
    "'charge = \"hand\"', 'charge = \"coil\"', but this rig has no [[coil]]",
    "'knock_down = \"jig\"', 'knock_down = \"coil\"', but this rig has no [[coil]]",
    "'park = \"2.0 mm\"', 'parc = \"2.0 mm\"', did you mean 'park'?"
  })
  void refusesWhatCannotBe(String good, String bad, String why) throws IOException {
    String text = shipped("rig-virtual-jig.toml");
    assertThat(text).contains(good);

    assertThat(problems(text.replace(good, bad)))
        .anySatisfy(said -> assertThat(said).contains(why));
  }

  @Test
  void refusesAKnockDownByAJigThatIsNotThere() throws IOException {
    String text =
        shipped("rig-virtual.toml")
            .replace("kind = \"virtual\"", "kind = \"virtual\"\nknock_down = \"jig\"");

    assertThat(problems(text)).singleElement().asString().contains("has no [jig]");
  }

  @Test
  void wantsThePinsOfARealRigsPartsAndNoOthers() {
    assertThat(needed(false, true)).contains("jig_enable").doesNotContain("bank_fill");
    assertThat(needed(true, true)).contains("jig_enable", "bank_fill", "fill_contact");
    assertThat(needed(true, false)).doesNotContain("jig_enable");
  }

  private static List<String> needed(boolean coil, boolean jig) {
    return PinNames.of(coil, Optional.empty(), jig).needed();
  }
}
