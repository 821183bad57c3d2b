package lodestep.config;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * One rig, as {@code rig.toml} describes it. Any thread, immutable.
 *
 * @param name the rig's name, to which a ledger is bound; 1 to 40 printable characters
 * @param bank {@link BankConfig#NONE} of a head alone, and where a supply feeds the coils
 * @param feed what feeds the coils where there is no bank; else {@link SupplyConfig#NONE}
 * @param coils at least one; none of a head alone
 * @param nests at least one; each names one of the coils, if there are any
 * @param pins board line number (BCM) of each line by its name in lower case; each number at most
 *     once; empty on a virtual rig
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
    String text) {

  /** A rig made in code, with a bank. */
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
    this(name, kind, head, bank, SupplyConfig.NONE, coils, nests, gauge, limits, pins, "");
  }

  public RigConfig {
    coils = List.copyOf(coils);
    nests = List.copyOf(nests);
    pins = Map.copyOf(pins);
  }

  /** What feeds the coils where there is no bank. */
  public Optional<SupplyConfig> supply() {
    return feed.equals(SupplyConfig.NONE) ? Optional.empty() : Optional.of(feed);
  }

  /** Whether there is a head and nothing that could be driven. */
  public boolean headAlone() {
    return coils.isEmpty();
  }

  /** The same rig with its head elsewhere. */
  public RigConfig withHead(HeadConfig other) {
    return new RigConfig(name, kind, other, bank, feed, coils, nests, gauge, limits, pins, text);
  }

  /** The same rig, read from this text. */
  public RigConfig readFrom(String file) {
    return new RigConfig(name, kind, head, bank, feed, coils, nests, gauge, limits, pins, file);
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
                    "no nest '"
                        + nestName
                        + "'; this rig has "
                        + nests.stream().map(NestConfig::name).toList()));
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
                    "no coil '"
                        + coilName
                        + "'; this rig has "
                        + coils.stream().map(CoilConfig::name).toList()));
  }
}
