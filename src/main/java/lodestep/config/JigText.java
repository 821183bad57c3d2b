package lodestep.config;

import java.util.List;
import java.util.Locale;
import lodestep.quantity.Length;

/** Writes a jig out for people, with the figures that follow from it. */
final class JigText {

  private JigText() {}

  /** What charges and what knocks down. */
  static String sources(Sources sources) {
    return (sources.charge() == ChargeBy.HAND ? "charged by hand, between jaws" : "charges by coil")
        + "; knocks down by "
        + sources.knockDown().word();
  }

  static String of(JigConfig jig) {
    JigConfig.Screw screw = jig.screw();
    JigConfig.Opposing magnet = jig.magnet();
    String face = magnet.northFaces() ? "north" : "south";
    String knocked = magnet.northFaces() ? "south" : "north";
    return RigText.table(
        List.of(
            List.of(
                "jig",
                String.format(
                    Locale.ROOT,
                    "screw %s a turn, %.2f µm a step, %.1f mm a second",
                    screw.pitch().written(),
                    screw.stepMetres() * 1e6,
                    screw.millimetresPerSecond())),
            List.of(
                "",
                "parks "
                    + screw.park().written()
                    + " from home; far switch at "
                    + screw.travel().written()
                    + ", the opposing magnet then "
                    + new Length(jig.heightAtHome().metres() - screw.travel().metres()).written()
                    + " over the nest's floor"),
            List.of(
                "",
                "never nearer to the work than "
                    + jig.smallestGap().written()
                    + "; at most "
                    + jig.budget().written()
                    + " of way for one magnet"),
            List.of(
                "",
                "opposing magnet "
                    + magnet.diameter().written()
                    + " across, "
                    + magnet.length().written()
                    + String.format(
                        Locale.ROOT, " high, remanence %.2f T", magnet.remanence().tesla())),
            List.of(
                "",
                "its "
                    + face
                    + " face looks at the work: it knocks down magnets whose "
                    + knocked
                    + " face looks at the gauge"),
            List.of("", "motor at most " + jig.temperatureMax().written())));
  }
}
