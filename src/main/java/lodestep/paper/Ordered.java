package lodestep.paper;

import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import lodestep.ledger.LedgerEntry;
import lodestep.ledger.Pickup;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent.CertificateIssued;
import lodestep.port.StockEvent.OrderHandedOver;
import lodestep.port.StockEvent.OrderTaken;

/**
 * What is on record of a customer's order. Any thread, immutable.
 *
 * @param name what it is called
 * @param taken what was ordered; the newest entry counts, empty if only a pickup names the order
 * @param pickups built for it, oldest first
 * @param certificates made out of those pickups, by their numbers
 * @param handedOver when it left the bench, the newest entry
 */
public record Ordered(
    String name,
    Optional<Dated<OrderTaken>> taken,
    List<Pickup> pickups,
    List<Long> certificates,
    Optional<Dated<OrderHandedOver>> handedOver) {

  public Ordered {
    pickups = List.copyOf(pickups);
    certificates = List.copyOf(certificates);
  }

  /** An event with its number and its day. */
  public record Dated<E extends LedgerEvent>(long number, Instant wall, E event) {}

  /** Where it stands: "open", "built" once a pickup is on record for it, or "handed over". */
  public String state() {
    boolean later =
        handedOver.isPresent()
            && taken.map(order -> order.number() < handedOver.get().number()).orElse(true);
    return later ? "handed over" : pickups.isEmpty() ? "open" : "built";
  }

  /** All orders that anything names, in the order in which they came up; errors: the archive's. */
  public static List<Ordered> all(LedgerArchive archive) {
    Map<String, Building> orders = new LinkedHashMap<>();
    for (LedgerEntry entry : LedgerEntry.all(archive, OrderTaken.class)) {
      OrderTaken event = (OrderTaken) entry.event();
      of(orders, event.name()).taken =
          Optional.of(new Dated<>(entry.number(), entry.wall(), event));
    }
    for (Pickup pickup : Pickup.all(archive)) {
      if (!pickup.built().order().isEmpty()) {
        of(orders, pickup.built().order()).pickups.add(pickup);
      }
    }
    for (LedgerEntry entry : LedgerEntry.all(archive, CertificateIssued.class)) {
      long pickup = ((CertificateIssued) entry.event()).pickup();
      orders.values().stream()
          .filter(order -> order.pickups.stream().anyMatch(one -> one.number() == pickup))
          .forEach(order -> order.certificates.add(entry.number()));
    }
    for (LedgerEntry entry : LedgerEntry.all(archive, OrderHandedOver.class)) {
      OrderHandedOver event = (OrderHandedOver) entry.event();
      of(orders, event.name()).handedOver =
          Optional.of(new Dated<>(entry.number(), entry.wall(), event));
    }
    return orders.values().stream().map(Building::done).toList();
  }

  private static Building of(Map<String, Building> orders, String name) {
    return orders.computeIfAbsent(name.toLowerCase(Locale.ROOT), any -> new Building(name));
  }

  /** What has been found of one so far. */
  private static final class Building {
    private final String name;
    private final List<Pickup> pickups = new ArrayList<>();
    private final List<Long> certificates = new ArrayList<>();
    private Optional<Dated<OrderTaken>> taken = Optional.empty();
    private Optional<Dated<OrderHandedOver>> handedOver = Optional.empty();

    Building(String name) {
      this.name = name;
    }

    Ordered done() {
      return new Ordered(name, taken, pickups, certificates, handedOver);
    }
  }
}
