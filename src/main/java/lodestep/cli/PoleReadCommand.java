package lodestep.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Optional;
import lodestep.bench.PoleJob;
import lodestep.bench.PoleWork;
import lodestep.ledger.Pickup;
import lodestep.paper.Entered;
import lodestep.paper.Things;
import lodestep.port.StockEvent.PickupBuilt;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Reads the pole tops of a pickup. */
@Command(
    name = "read",
    description = "Guides the reading of a pickup's pole tops, in the order of the strings.",
    footer = {
      "",
      "Read a new pickup before it leaves: then a return is held against its own pole",
      "tops. A pickup with no record is read with --as-found and the number of its",
      "poles, and is on record from then on.",
      "",
      "Examples: lodestep pickup read \"Plover 12\" --seat \"oak block\" --spacer \"2.2 mm\"",
      "          lodestep pickup read \"old Finch\" --as-found --poles 6"
    })
final class PoleReadCommand extends Asked {

  private final Desk desk;

  @Parameters(paramLabel = "NAME", description = "the pickup")
  private String name = "";

  @Mixin private PoleReading reading = new PoleReading();

  @Option(names = "--as-found", description = "a pickup with no record, or none of its building")
  private boolean asFound;

  @Option(names = "--poles", paramLabel = "NUMBER", description = "of a pickup with no record")
  private @Nullable Integer poles;

  @Option(names = "--json", description = "the readings as JSON, everything else on stderr")
  private boolean json;

  PoleReadCommand(Desk desk) {
    this.desk = desk;
  }

  @Override
  public Integer call() {
    PoleJob.Done done = PoleReading.read(desk, run(), json ? desk.err() : desk.out());
    if (json) {
      long number = done.poles().pickup();
      ObjectNode document =
          reading
              .record()
              .read(
                  desk,
                  things -> Json.ofPickup(PickupCommands.pickup(things, String.valueOf(number))));
      desk.print(document);
    }
    return done.poles().whole() ? Desk.DONE : Desk.NOT_ACCEPTED;
  }

  private PaperWork.PoleRun run() {
    String plain = PickupCommands.named(name);
    if (asFound && !desk.program().isLedger(reading.record().ledger(desk))) {
      return unknown(plain);
    }
    return reading
        .record()
        .read(
            desk,
            things ->
                things
                    .pickup(plain)
                    .map(known -> known(things, known))
                    .orElseGet(
                        () -> {
                          if (!asFound) {
                            throw new Refusal(
                                PickupCommands.unknown(things, plain)
                                    + "; one with no record is read with --as-found --poles 6");
                          }
                          return unknown(plain);
                        }));
  }

  private PaperWork.PoleRun known(Things things, Pickup pickup) {
    Optional<Pickup.Round> last = pickup.rounds().stream().reduce((earlier, later) -> later);
    boolean fresh = last.isEmpty() && !asFound;
    return reading.run(
        desk,
        pickup.number(),
        pickup.built(),
        pickup.nextRound(),
        fresh ? PoleWork.AS_BUILT : PoleWork.AS_FOUND,
        last,
        things.magnets(pickup));
  }

  private PaperWork.PoleRun unknown(String plain) {
    if (poles == null || poles < 1 || poles > Entered.POLES_MAX) {
      throw new Refusal("--poles: how many poles has it? 1 to " + Entered.POLES_MAX);
    }
    return reading.run(
        desk,
        0,
        new PickupBuilt(plain, "", poles, List.of(), "", "read as found; not built here"),
        1,
        PoleWork.AS_FOUND,
        Optional.empty(),
        List.of());
  }
}
