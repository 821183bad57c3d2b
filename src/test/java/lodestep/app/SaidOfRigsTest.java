package lodestep.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Predicate;
import java.util.stream.Stream;
import lodestep.cli.Cautions;
import lodestep.config.RigConfig;
import lodestep.config.RigFile;
import lodestep.config.ShippedRig;
import lodestep.device.Outcome;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Goal: what the page says of any rig, and of any end of an act, has its form in the bundle of
 * words, parts of forms and all.
 */
class SaidOfRigsTest {

  private final SaidForms forms = SaidForms.ofTheBundle();

  private void told(Set<String> said, Predicate<String> given) {
    assertThat(said).isNotEmpty();
    assertThat(said.stream().flatMap(text -> forms.untold(text, given).stream())).isEmpty();
  }

  /** Cautions of each rig, and what its rig.toml was understood as. */
  @ParameterizedTest(name = "{0}")
  @ValueSource(
      strings = {
        "rig-virtual-switched.toml", "rig-virtual-coil-and-jig.toml", "rig-virtual-jig.toml",
        "rig-virtual-head.toml", "rig-real-coil.toml", "rig-real-switched.toml"
      })
  void hasAFormForEachCautionAndEachLineOfARig(String file) {
    RigConfig rig = ShippedRig.read(file);
    ObjectNode node = PageDevice.object().put("words", RigFile.show(rig));
    Cautions.of(rig).lines().forEach(node.putArray("cautions")::add);
    Set<String> given = new TreeSet<>(List.of(rig.name()));
    rig.coils().forEach(coil -> given.add(coil.name()));
    rig.nests().forEach(nest -> given.add(nest.name()));
    rig.gauge().references().forEach(reference -> given.add(reference.name()));
    // Lines of the board are named as in rig.toml, in any language.
    told(
        SaidOnScreens.ofRig(node),
        text -> given.contains(text) || text.matches("/dev/.*|\\w+_\\w+"));
  }

  /** Ways in which an act can end, and a verdict that stands. */
  @Test
  void hasAFormForWhateverBecomesOfAnAct() {
    Set<String> said = new TreeSet<>();
    for (Outcome outcome : Outcome.values()) {
      said.add("knock down, 19.5 kA/m south, by the rod coil: " + outcome.word());
    }
    Stream.of("as found", "charged", "knocked down", "demagnetised", "proof", "after a while")
        .map(stage -> "read, " + stage)
        .forEach(said::add);
    told(said, "rod coil"::equals);
    assertThat(forms.untold("read, by nobody", "rod coil"::equals)).isNotEmpty();
    assertThat(forms.untold("charge: nobody said this", "rod coil"::equals)).isNotEmpty();
  }
}
