package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import javax.imageio.ImageIO;
import javax.xml.parsers.DocumentBuilderFactory;
import lodestep.config.ShippedRig;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Goal: a person's questions about magnets are answered in words, numbers and curves. */
class MagnetCommandsTest {

  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final List<String> ROD =
      List.of("--alloy", "alnico 3", "--size", "4.6 x 15.5 mm", "--stand-off", "2 mm");

  private static final String RIG_TEXT = ShippedRig.read("rig-virtual.toml").text();

  private final Path folder;

  MagnetCommandsTest(@TempDir Path folder) {
    this.folder = folder;
  }

  private static CommandRun.Ended asked(String command, List<String> options, String... more) {
    List<String> all = new ArrayList<>(List.of("magnet", command));
    all.addAll(options);
    all.addAll(List.of(more));
    return CommandRun.run(all.toArray(String[]::new));
  }

  private static JsonNode json(CommandRun.Ended ended) throws IOException {
    assertThat(ended.code()).as(ended.err()).isZero();
    return JSON.readTree(ended.out());
  }

  @Test
  void drawsTheKnockDownCurveInCharactersAndAsJson() throws IOException {
    CommandRun.Ended words = asked("curve", ROD);
    JsonNode points = json(asked("curve", ROD, "--json")).get("points");

    assertThat(words.out())
        .contains("alnico 3, rod 4.60 x 15.50 mm, read 2.00 mm off its face", "reverse peak")
        .contains("lots lie some per cent apart");
    assertThat(words.out().lines()).allMatch(line -> line.length() <= 80);
    for (int i = 1; i < points.size(); i++) {
      assertThat(points.get(i).get("leftTesla").doubleValue())
          .isLessThanOrEqualTo(points.get(i - 1).get("leftTesla").doubleValue());
    }
  }

  @Test
  void drawsTheCurveIntoFiles() throws Exception {
    Path svg = folder.resolve("curve.svg");
    Path png = folder.resolve("curve.png");

    assertThat(asked("curve", ROD, "--plot", svg.toString()).code()).isZero();
    assertThat(asked("curve", ROD, "--plot", png.toString()).code()).isZero();

    DocumentBuilderFactory parser = DocumentBuilderFactory.newInstance();
    // The file names its document type by an address; nothing here goes out to look it up.
    parser.setFeature("http://apache.org/xml/features/nonvalidating/load-external-dtd", false);
    String root =
        parser
            .newDocumentBuilder()
            .parse(Files.newInputStream(svg))
            .getDocumentElement()
            .getTagName();
    BufferedImage image = ImageIO.read(png.toFile());
    assertThat(root).isEqualTo("svg");
    assertThat(image.getWidth()).isGreaterThan(600);
    try (var left = Files.list(folder)) {
      assertThat(left).containsExactlyInAnyOrder(svg, png);
    }
  }

  @Test
  void saysWhatACoilsPulseWouldInduceInAFinishedPickup() throws IOException {
    List<String> rod = List.of("--alloy", "alnico 3", "--size", "4.6 x 15.5 mm");
    CommandRun.Ended told =
        asked("coil", rod, "--winding", "6000 turns; 3 mm deep", "--clearance", "4 mm");

    assertThat(told.out()).contains("in the pickup's open winding", "Not for this pickup:");
    assertThat(told.out().lines()).allMatch(line -> line.length() <= 80);
    assertThat(asked("coil", rod, "--winding", "6000 turns").err())
        .contains("--clearance: the pickup's winding stands 4.50 mm out")
        .hasLineCount(1);
    assertThat(
            json(asked("coil", rod, "--winding", "2 turns", "--clearance", "5 mm", "--json"))
                .has("windingRefused"))
        .isFalse();
  }

  @Test
  void saysWhatSaturatesAMagnetAndWhetherThisRigDoes() throws IOException {
    JsonNode rod = json(asked("charging", ROD, "--json"));

    assertThat(rod.get("netSaturatingAmperesPerMetre").doubleValue()).isEqualTo(200e3);
    assertThat(rod.get("saturatingAmperesPerMetre").doubleValue()).isBetween(230e3, 300e3);
    assertThat(rod.get("nests").get(0).get("saturates").booleanValue()).isTrue();
    List<String> ceramic =
        List.of("--alloy", "ceramic 5", "--shape", "bar", "--size", "56 x 11 x 3.1 mm");
    assertThat(asked("charging", ceramic).out())
        .contains("inside it, saturated by", "800.0 kA/m", "read and match");
  }

  @Test
  void saysWhatALevelKeeps() throws IOException {
    JsonNode levels = json(asked("levels", ROD, "--opposing", "6 kA/m", "--json"));
    double untouched = levels.get("untouchedByOpposingTesla").doubleValue();

    for (JsonNode level : levels.get("levels")) {
      boolean safe = level.get("levelTesla").doubleValue() <= untouched;
      assertThat(level.get("lossToOpposingTesla").doubleValue() == 0).isEqualTo(safe);
    }
    assertThat(asked("levels", ROD).out())
        .contains("is left alone by an opposing field of 5.0 kA/m");
    List<String> four = List.of("--alloy", "alnico 4", "--size", "4.6 x 15.5 mm");
    assertThat(asked("levels", four).out()).contains("not known");
  }

  @Test
  void findsTheLevelAtWhichAnotherAlloyReadsAlike() {
    List<String> six = List.of("--alloy", "alnico 6", "--size", "4.6 x 15.5 mm");

    assertThat(asked("instead", six, "--level", "480 G", "--by", "alnico 5-7").out())
        .contains("alnico 5-7, rod 4.60 x 15.50 mm in place of alnico 6", "reads at 3.00 mm")
        .contains("stands the stronger opposing field");
    CommandRun.Ended weak = asked("instead", six, "--level", "480 G", "--by", "alnico 3");
    assertThat(weak.code()).isEqualTo(2);
    assertThat(weak.err()).contains("--by: alnico 3", "cannot read 480.0 G", "fully charged");
  }

  @Test
  void sizesACoilAndItsBank() throws IOException {
    List<String> six = List.of("--alloy", "alnico 6", "--size", "4.6 x 15.5 mm");
    JsonNode coil = json(asked("coil", six, "--json"));
    double volts = coil.get("volts").doubleValue();

    assertThat(coil.get("fieldAmperesPerMetre").doubleValue())
        .isGreaterThanOrEqualTo(0.9999 * coil.get("neededAmperesPerMetre").doubleValue());
    assertThat(volts).isLessThanOrEqualTo(50);
    assertThat(coil.get("joules").doubleValue())
        .isCloseTo(0.5 * coil.get("farads").doubleValue() * volts * volts, within(0.05))
        .isLessThanOrEqualTo(60);
    assertThat(asked("coil", six).out()).contains("through switch and changeover", "diode");
    assertThat(coil.get("boreMetres").doubleValue()).isCloseTo(6.6e-3, within(1e-9));
    assertThat(coil.get("outsideMetres").doubleValue()).isCloseTo(26.6e-3, within(1e-9));
    assertThat(coil.get("layers").intValue() * coil.get("turnsOfALayer").intValue())
        .isEqualTo(coil.get("turns").intValue());
    assertThat(coil.get("residualVolts").doubleValue()).isLessThan(volts);
    List<String> bar =
        List.of("--alloy", "alnico 8", "--shape", "bar", "--size", "56 x 11 x 3.1 mm");
    assertThat(asked("coil", bar).code()).isEqualTo(1);
    assertThat(asked("coil", bar).err()).contains("charge it between jaws");
    List<String> ceramic = List.of("--alloy", "ceramic 5", "--size", "4.6 x 15.5 mm");
    assertThat(asked("coil", ceramic).err()).contains("--alloy: ceramic 5 needs a field of");
    assertThat(asked("coil", six, "--overhang", "-3 mm").err())
        .contains("--overhang: it is 0 to 100.00 mm");
  }

  @Test
  void followsAJigsFieldAlongTheMagnet() throws IOException {
    Path jig = folder.resolve("jig.toml");
    Files.writeString(jig, ShippedRig.read("rig-virtual-jig.toml").text());
    JsonNode gaps = json(asked("gap", ROD, "--rig", jig.toString(), "--json")).get("gaps");

    double last = -1;
    for (JsonNode gap : gaps) {
      double near = gap.get("nearAmperesPerMetre").doubleValue();
      assertThat(near).isGreaterThan(gap.get("meanAmperesPerMetre").doubleValue());
      assertThat(gap.get("meanAmperesPerMetre").doubleValue())
          .isGreaterThan(gap.get("farAmperesPerMetre").doubleValue());
      assertThat(gap.get("leftTesla").doubleValue()).isGreaterThan(last);
      last = gap.get("leftTesla").doubleValue();
    }
    assertThat(asked("gap", ROD, "--rig", jig.toString()).out()).contains("part of each zero");
    assertThat(asked("gap", ROD).err()).contains("--rig: this rig has no jig");
  }

  @Test
  void tellsEachFigureOfAnAlloyWithItsSource() throws IOException {
    JsonNode all = json(asked("alloys", List.of(), "--json"));

    assertThat(all).hasSize(22);
    assertThat(asked("alloys", List.of()).out()).contains("neodymium N48", "2400", "from memory");
    assertThat(asked("alloys", List.of("A3")).out())
        .contains("resistivity uOhm cm", "58.8", "read: material library", "common practice");
  }

  @Test
  void takesALotFromTheRigsFile() throws IOException {
    Path rig = folder.resolve("rig.toml");
    String lot =
        """

        [[lot]]
        name = "heron yard 7"
        alloy = "alnico 3"
        measured = "ten rods, 12 May"
        remanence_tesla = 0.66
        """;
    Files.writeString(rig, RIG_TEXT + lot);

    String whole = asked("alloys", List.of("heron yard 7"), "--rig", rig.toString()).out();
    assertThat(whole).contains("0.66", "measured: ten rods, 12 May", "10.7");

    String curve =
        "curve = [\"0 kA/m, 0.66 T\", \"-8 kA/m, 602 mT\", \"-16 kA/m, 525 mT\","
            + " \"-24 kA/m, 416 mT\", \"-30 kA/m, 291 mT\", \"-35 kA/m, 118 mT\"]";
    Files.writeString(rig, RIG_TEXT + lot.replace("remanence_tesla = 0.66", curve));
    assertThat(asked("alloys", List.of("heron yard 7"), "--rig", rig.toString()).out())
        .contains("measured: ten rods, 12 May")
        .containsPattern("Br T +0\\.6[56]");
    assertThat(CommandRun.run("rig", rig.toString()).out()).contains("a curve of 6 points");
    Files.writeString(rig, RIG_TEXT + lot + curve + "\n");
    assertThat(CommandRun.run("rig", rig.toString()).err())
        .contains("its curve already says its remanence");

    Files.writeString(rig, RIG_TEXT + lot.replace("0.66", "66"));
    CommandRun.Ended wrong = CommandRun.run("rig", rig.toString());
    assertThat(wrong.code()).isEqualTo(2);
    assertThat(wrong.err()).contains("the lot 'heron yard 7' cannot be", "remanence Br of 66.0");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "--alloy;alnico 33;--alloy: 'alnico 33' is no alloy known here",
        "--size;4.6 mm;--size: '4.6 mm' is no size of a rod",
        "--size;460 x 15 mm;--size: ",
        "--stand-off;2;--stand-off: ",
        "--stand-off;80 mm;--stand-off: it is 0 to 50.00 mm",
        "--plot;curve.gif;--plot: a plot is written as .svg or .png"
      })
  void refusesWhatItCannotAnswer(String option, String value, String sentence) {
    List<String> options = new ArrayList<>(ROD);
    int at = options.indexOf(option);
    if (at >= 0) {
      options.set(at + 1, value);
    } else {
      options.addAll(List.of(option, value));
    }

    CommandRun.Ended ended = asked("curve", options);

    assertThat(ended.code()).isEqualTo(2);
    assertThat(ended.err()).contains(sentence);
  }
}
