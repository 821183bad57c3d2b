package lodestep.ledger;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.StockEvent.MagnetCorrected;
import lodestep.port.StockEvent.MagnetsExchanged;
import org.jspecify.annotations.Nullable;

/**
 * What of magnets was written down wrongly, and how it is read since. What was written stands in
 * the ledger as it was. Any thread, immutable.
 */
public final class Corrections {

  private final Map<Long, MagnetNamed> corrected;

  private Corrections(Map<Long, MagnetNamed> corrected) {
    this.corrected = Map.copyOf(corrected);
  }

  /** All on record; errors are the archive's. */
  public static Corrections of(LedgerArchive archive) {
    Map<Long, LedgerEvent> acts = new TreeMap<>();
    for (Class<? extends LedgerEvent> kind :
        List.of(MagnetCorrected.class, MagnetsExchanged.class)) {
      archive.forEachOfKind(
          EventCodec.kind(kind),
          stored -> acts.put(stored.number(), EventCodec.decode(stored).event()));
    }
    Map<Long, MagnetNamed> now = new HashMap<>();
    for (LedgerEvent act : acts.values()) {
      if (act instanceof MagnetCorrected one) {
        current(now, archive, one.magnet())
            .ifPresent(named -> now.put(one.magnet(), with(named, one.field(), one.becomes())));
      } else if (act instanceof MagnetsExchanged two) {
        Optional<MagnetNamed> first = current(now, archive, two.magnet());
        Optional<MagnetNamed> second = current(now, archive, two.other());
        if (first.isPresent() && second.isPresent()) {
          now.put(two.magnet(), called(first.get(), second.get()));
          now.put(two.other(), called(second.get(), first.get()));
        }
      }
    }
    return new Corrections(now);
  }

  private static Optional<MagnetNamed> current(
      Map<Long, MagnetNamed> now, LedgerArchive archive, long magnet) {
    @Nullable MagnetNamed known = now.get(magnet);
    if (known != null) {
      return Optional.of(known);
    }
    MagnetNamed[] found = new MagnetNamed[1];
    archive.forEach(
        magnet,
        magnet,
        stored -> {
          if (EventCodec.decode(stored).event() instanceof MagnetNamed named) {
            found[0] = named;
          }
        });
    return Optional.ofNullable(found[0]);
  }

  /** Whether anything was corrected. */
  boolean any() {
    return !corrected.isEmpty();
  }

  /** How it reads now, of what was written. */
  public MagnetNamed now(long magnet, MagnetNamed written) {
    return Objects.requireNonNullElse(corrected.get(magnet), written);
  }

  /**
   * The same magnet with this field read so.
   *
   * @throws IllegalArgumentException if there is no such field to correct
   */
  public static MagnetNamed with(MagnetNamed named, String field, String becomes) {
    return switch (field) {
      case "name" -> with(named, becomes, named.set(), named.lot(), named.alloy());
      case "set" -> with(named, named.name(), becomes, named.lot(), named.alloy());
      case "lot" -> with(named, named.name(), named.set(), becomes, named.alloy());
      case "alloy" -> with(named, named.name(), named.set(), named.lot(), becomes);
      default -> throw new IllegalArgumentException("no '" + field + "' is corrected");
    };
  }

  /** What stands in this field. */
  public static String field(MagnetNamed named, String field) {
    return switch (field) {
      case "name" -> named.name();
      case "set" -> named.set();
      case "lot" -> named.lot();
      case "alloy" -> named.alloy();
      default -> throw new IllegalArgumentException("no '" + field + "' is corrected");
    };
  }

  private static MagnetNamed called(MagnetNamed one, MagnetNamed like) {
    return with(one, like.name(), like.set(), one.lot(), one.alloy());
  }

  private static MagnetNamed with(
      MagnetNamed named, String name, String set, String lot, String alloy) {
    return new MagnetNamed(
        named.batch(),
        name,
        named.row(),
        named.ordinal(),
        set,
        lot,
        alloy,
        named.shape(),
        named.sizesMicroMetres(),
        named.nest(),
        named.poleUp(),
        named.task(),
        named.targetMicroTesla(),
        named.dropMicroTesla(),
        named.dropPartsPerMillion(),
        named.toleranceMicroTesla(),
        named.tolerancePartsPerMillion(),
        named.unchargedMicroTesla());
  }
}
