package lodestep.config;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
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
    List<List<String>> rows = new ArrayList<>();
    for (String fact : Stream.concat(way(jig).stream(), magnet(jig).stream()).toList()) {
      rows.add(List.of(rows.isEmpty() ? "jig" : "", fact));
    }
    return RigText.table(rows);
  }

  private static List<String> way(JigConfig jig) {
    JigConfig.Screw screw = jig.screw();
    Length left = new Length(jig.heightAtHome().metres() - screw.travel().metres());
    return List.of(
        said(
            "screw %s a turn, %.2f µm a step, %.1f mm a second",
            screw.pitch().written(), screw.stepMetres() * 1e6, screw.millimetresPerSecond()),
        said(
            "parks %s from home; far switch at %s, the opposing magnet then %s over the nest",
            screw.park().written(), screw.travel().written(), left.written()),
        said(
            "never nearer to the work than %s; at most %.1f m of way for one magnet",
            jig.smallestGap().written(), jig.budget().metres()));
  }

  private static List<String> magnet(JigConfig jig) {
    JigConfig.Opposing magnet = jig.magnet();
    String face = magnet.northFaces() ? "north" : "south";
    String knocked = magnet.northFaces() ? "south" : "north";
    return List.of(
        said(
            "opposing magnet %s across, %s high, remanence %.2f T",
            magnet.diameter().written(), magnet.length().written(), magnet.remanence().tesla()),
        said(
            "its %s face looks at the work: it knocks down magnets with %s at the gauge",
            face, knocked),
        said("motor at most %s", jig.temperatureMax().written()));
  }

  private static String said(String format, Object... figures) {
    return String.format(Locale.ROOT, format, figures);
  }
}
