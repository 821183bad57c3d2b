package lodestep.config;

import java.util.List;
import java.util.Optional;

/** What charges and what knocks down, by the words in [rig] or by what the rig has. */
final class SourcesReader {

  private SourcesReader() {}

  /**
   * The sources; a fault is noted with the section.
   *
   * @param rig the section [rig], not ended yet
   * @param coil whether the file tells of a coil
   * @param told whether the file has a [jig], with faults or without
   */
  static Sources read(Section rig, boolean coil, boolean told, Optional<JigConfig> jig) {
    ChargeBy charge = coil ? ChargeBy.COIL : ChargeBy.HAND;
    if (rig.mayHave("charge")) {
      charge =
          rig.word("charge", List.of(ChargeBy.COIL.word(), ChargeBy.HAND.word()))
              .map(word -> word.equals(ChargeBy.COIL.word()) ? ChargeBy.COIL : ChargeBy.HAND)
              .orElse(charge);
    }
    KnockDownBy knockDown = told ? KnockDownBy.JIG : KnockDownBy.COIL;
    if (rig.mayHave("knock_down")) {
      knockDown =
          rig.word("knock_down", List.of(KnockDownBy.COIL.word(), KnockDownBy.JIG.word()))
              .map(word -> word.equals(KnockDownBy.JIG.word()) ? KnockDownBy.JIG : KnockDownBy.COIL)
              .orElse(knockDown);
    }
    if (charge == ChargeBy.COIL && !coil && told) {
      rig.refuse("charge", "charge = \"coil\", but this rig has no [[coil]]; write \"hand\"");
    }
    if (knockDown == KnockDownBy.JIG && !told) {
      rig.refuse("knock_down", "knock_down = \"jig\", but this rig has no [jig]");
    }
    if (knockDown == KnockDownBy.COIL && !coil && told) {
      rig.refuse(
          "knock_down", "knock_down = \"coil\", but this rig has no [[coil]]; write \"jig\"");
    }
    return new Sources(charge, knockDown, jig.stream().toList());
  }
}
