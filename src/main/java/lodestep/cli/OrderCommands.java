package lodestep.cli;

import static lodestep.cli.MagnetCommands.said;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import lodestep.paper.Entered;
import lodestep.paper.Ordered;
import lodestep.port.StockEvent.OrderHandedOver;
import lodestep.port.StockEvent.OrderTaken;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.HelpCommand;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Customers' orders. */
final class OrderCommands {

  private OrderCommands() {}

  /** The group itself, which only says what there is. */
  @Command(
      name = "order",
      description = "Customers' orders: what is wanted, what was built for it, what has left.",
      subcommands = HelpCommand.class)
  static final class OfOrders extends Group {
    OfOrders(Desk desk) {
      super(desk);
    }
  }

  @Command(
      name = "in",
      description = "Puts an order on record; said again, the newest words count.",
      footer = {
        "",
        "Pickups are built for it with: lodestep pickup build --order ORDER",
        "",
        "Example: lodestep order in \"Hollis 7\" --wanted \"two pickups, the neck warmer\""
      })
  static final class In extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "ORDER", description = "what it is called")
    private String name = "";

    @Mixin private RecordOf record = new RecordOf();

    @Option(
        names = "--wanted",
        paramLabel = "WORDS",
        required = true,
        description = "what is to be made")
    private String wanted = "";

    @Option(names = "--customer", paramLabel = "WORDS", description = "who ordered it")
    private String customer = "";

    @Option(names = "--due", paramLabel = "DAY", description = "by when: 2026-05-01")
    private String due = "";

    In(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      OrderTaken taken =
          GaugeCommands.understood(
              () -> StockCommands.ENTERED.order(new OrderTaken(name, customer, wanted, due)));
      StockCommands.keep(desk, record, taken, "Order " + taken.name() + " is on record");
      return Desk.DONE;
    }
  }

  @Command(
      name = "out",
      description = "Puts on record that an order was handed over.",
      footer = {"", "Example: lodestep order out \"Hollis 7\" --said \"fetched\""})
  static final class Out extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "ORDER", description = "which")
    private String name = "";

    @Mixin private RecordOf record = new RecordOf();

    @Option(names = "--said", paramLabel = "WORDS", description = "what there is to say of it")
    private String words = "";

    Out(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      OrderHandedOver out =
          record.read(
              desk, things -> StockCommands.ENTERED.handedOver(Entered.found(things, name), words));
      StockCommands.keep(desk, record, out, "Order " + out.name() + " is handed over");
      return Desk.DONE;
    }
  }

  @Command(
      name = "show",
      description = "Shows the orders on record, or all that is on record of one.",
      footer = {"", "Examples: lodestep order show", "          lodestep order show \"Hollis 7\""})
  static final class Show extends Asked {

    private final Desk desk;

    @Parameters(paramLabel = "ORDER", arity = "0..1", description = "which; all if left out")
    private @Nullable String name;

    @Mixin private RecordOf record = new RecordOf();

    @Option(names = "--json", description = "as JSON")
    private boolean json;

    Show(Desk desk) {
      this.desk = desk;
    }

    @Override
    public Integer call() {
      String asked = name;
      List<Ordered> orders =
          record.read(
              desk,
              things -> asked == null ? things.orders() : List.of(Entered.found(things, asked)));
      if (json) {
        ArrayNode all = Json.array();
        orders.forEach(order -> all.add(document(order)));
        desk.print(all);
      } else if (asked != null) {
        desk.print(words(orders.get(0)));
      } else if (orders.isEmpty()) {
        desk.print(List.of("No order is on record yet: lodestep order in --help"));
      } else {
        desk.print(table(orders).lines());
      }
      return Desk.DONE;
    }

    private static Table table(List<Ordered> orders) {
      List<List<String>> rows = new ArrayList<>();
      for (Ordered order : orders) {
        rows.add(
            List.of(
                order.name(),
                order.state(),
                order.taken().map(taken -> taken.event().customer()).orElse(""),
                order.taken().map(taken -> taken.event().due()).orElse(""),
                String.valueOf(order.pickups().size()),
                order.taken().map(taken -> taken.event().wanted()).orElse("")));
      }
      return new Table(
          List.of(
              Table.Column.ofWords("order"),
              Table.Column.ofWords("state"),
              Table.Column.ofWords("customer"),
              Table.Column.ofWords("due"),
              Table.Column.ofNumbers("pickups"),
              Table.Column.ofWords("wanted")),
          rows);
    }
  }

  /** All that is on record of an order, in words. */
  static List<String> words(Ordered order) {
    List<String> lines = new ArrayList<>();
    lines.add("Order " + order.name() + ": " + order.state());
    order
        .taken()
        .ifPresent(
            taken ->
                lines.add(
                    said(
                        "Taken %s%s: %s%s",
                        day(taken.wall()),
                        taken.event().customer().isEmpty() ? "" : " of " + taken.event().customer(),
                        taken.event().wanted(),
                        taken.event().due().isEmpty() ? "" : "; due " + taken.event().due())));
    if (!order.pickups().isEmpty()) {
      lines.add("");
      lines.addAll(PickupTable.of(order.pickups()).lines());
    }
    if (!order.certificates().isEmpty()) {
      lines.add("");
      lines.add(
          "Certificates: "
              + order.certificates().stream().map(String::valueOf).collect(Collectors.joining(", "))
              + "; once more on paper with: lodestep certificate --again NUMBER");
    }
    order
        .handedOver()
        .ifPresent(
            out ->
                lines.add(
                    said(
                        "Handed over %s%s",
                        day(out.wall()),
                        out.event().said().isEmpty() ? "" : ": " + out.event().said())));
    return lines;
  }

  private static String day(Instant wall) {
    return ClockWords.minute(wall).substring(0, 10);
  }

  private static ObjectNode document(Ordered order) {
    ObjectNode node = Json.object();
    node.put("order", order.name());
    node.put("state", order.state());
    order.taken().ifPresent(taken -> node.set("taken", Json.ofRecord(taken.event())));
    ArrayNode pickups = node.putArray("pickups");
    order.pickups().forEach(pickup -> pickups.add(Json.ofPickup(pickup)));
    ArrayNode certificates = node.putArray("certificates");
    order.certificates().forEach(certificates::add);
    order.handedOver().ifPresent(out -> node.set("handedOver", Json.ofRecord(out.event())));
    return node;
  }
}
