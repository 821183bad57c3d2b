package lodestep.config;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.quantity.Nearest;

/**
 * One rig, as {@code rig.toml} describes it. Any thread, immutable.
 *
 * @param name the rig's name, to which a ledger is bound; 1 to 40 printable characters
 * @param bank {@link BankConfig#NONE} of a head alone, where a supply feeds the coils, and of a rig
 *     with a jig and no coil
 * @param feed what feeds the coils where there is no bank; else {@link SupplyConfig#NONE}
 * @param coils at least one; none of a head alone, and of a rig with a jig and no coil
 * @param nests at least one; each names one of the coils, if there are any
 * @param pins board line number (BCM) of each line by its name in lower case; each number at most
 *     once; empty on a virtual rig
 * @param sources what charges, what knocks down, and the jig if there is one
 * @param lots of stock with measured figures
 * @param relays what is known of the relays' contacts; {@link RelayConfig#NONE} if nothing is
 * @param text the file it was read from, as it was read; empty when there was none
 */
public record RigConfig(
    String name,
    RigKind kind,
    HeadConfig head,
    BankConfig bank,
    SupplyConfig feed,
    List<CoilConfig> coils,
    List<NestConfig> nests,
    GaugeConfig gauge,
    Limits limits,
    Map<String, Integer> pins,
    Sources sources,
    List<LotConfig> lots,
    RelayConfig relays,
    String text) {

  /** A rig made in code, whose pulse coil with a bank charges and knocks down. */
  public RigConfig(
      String name,
      RigKind kind,
      HeadConfig head,
      BankConfig bank,
      List<CoilConfig> coils,
      List<NestConfig> nests,
      GaugeConfig gauge,
      Limits limits,
      Map<String, Integer> pins) {
    this(
        name,
        kind,
        head,
        bank,
        SupplyConfig.NONE,
        coils,
        nests,
        gauge,
        limits,
        pins,
        Sources.COIL,
        List.of(),
        RelayConfig.NONE,
        "");
  }

  public RigConfig {
    coils = List.copyOf(coils);
    nests = List.copyOf(nests);
    pins = Map.copyOf(pins);
    lots = List.copyOf(lots);
  }

  /** What feeds the coils where there is no bank. */
  public Optional<SupplyConfig> supply() {
    return feed.equals(SupplyConfig.NONE) ? Optional.empty() : Optional.of(feed);
  }

  /** Whether there is a head and nothing that could be driven. */
  public boolean headAlone() {
    return coils.isEmpty() && sources.jigs().isEmpty();
  }

  /** Whether there is a capacitor bank. */
  public boolean hasBank() {
    return !bank.equals(BankConfig.NONE);
  }

  /** The reverse jig, if the rig has one. */
  public Optional<JigConfig> jig() {
    return sources.jig();
  }

  /** The same rig with these sources. */
  public RigConfig with(Sources other) {
    return new RigConfig(
        name, kind, head, bank, feed, coils, nests, gauge, limits, pins, other, lots, relays, text);
  }

  /** The same rig with its head elsewhere. */
  public RigConfig with(HeadConfig other) {
    return new RigConfig(
        name, kind, other, bank, feed, coils, nests, gauge, limits, pins, sources, lots, relays,
        text);
  }

  /** The same rig with this in place of its nest of the same name. */
  public RigConfig with(NestConfig seat) {
    List<NestConfig> changed =
        nests.stream().map(nest -> nest.name().equals(seat.name()) ? seat : nest).toList();
    return new RigConfig(
        name, kind, head, bank, feed, coils, changed, gauge, limits, pins, sources, lots, relays,
        text);
  }

  /** The same rig with this known of its relays. */
  public RigConfig with(RelayConfig other) {
    return new RigConfig(
        name, kind, head, bank, feed, coils, nests, gauge, limits, pins, sources, lots, other,
        text);
  }

  /** The same rig, read from this text. */
  public RigConfig readFrom(String file) {
    return new RigConfig(
        name, kind, head, bank, feed, coils, nests, gauge, limits, pins, sources, lots, relays,
        file);
  }

  /**
   * The nest of this name.
   *
   * @throws IllegalArgumentException naming the nests there are
   */
  public NestConfig nest(String nestName) {
    return nests.stream()
        .filter(nest -> nest.name().equals(nestName))
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    unknown("nest", nestName, nests.stream().map(NestConfig::name).toList())));
  }

  /**
   * The coil of this name.
   *
   * @throws IllegalArgumentException naming the coils there are
   */
  public CoilConfig coil(String coilName) {
    return coils.stream()
        .filter(coil -> coil.name().equals(coilName))
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    unknown("coil", coilName, coils.stream().map(CoilConfig::name).toList())));
  }

  private static String unknown(String what, String written, List<String> names) {
    return "no "
        + what
        + " '"
        + written
        + "'"
        + Nearest.hint(written, names)
        + "; this rig has "
        + (names.isEmpty() ? "none" : String.join(", ", names));
  }
}
