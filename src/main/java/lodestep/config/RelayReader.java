package lodestep.config;

import java.util.OptionalLong;

/** Reads [relays], which a rig need not have. */
final class RelayReader {

  /** Below this a data sheet speaks of something else; a batch would use it up. */
  private static final long LEAST = 1_000;

  /** More than any contact that carries current bears. */
  private static final long MOST = 1_000_000_000L;

  private RelayReader() {}

  static RelayConfig read(Section section) {
    OptionalLong operations = section.whole("operations", LEAST, MOST);
    String since = NewSince.read(section);
    return section.end() && operations.isPresent()
        ? new RelayConfig(operations.getAsLong(), since)
        : RelayConfig.NONE;
  }
}
