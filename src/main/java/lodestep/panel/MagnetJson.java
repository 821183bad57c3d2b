package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.MagnetHistory.Happening;
import lodestep.ledger.MagnetHistory.What;
import lodestep.port.ActEvent;
import lodestep.port.GaugeEvent;
import lodestep.port.KeepingEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent;
import lodestep.quantity.FluxDensity;

/** Magnets on record, as the page gets them. Levels in tesla; words for what happened. Pure. */
final class MagnetJson {

  private MagnetJson() {}

  static ArrayNode of(List<Bench.Found> all) {
    ArrayNode node = JsonNodeFactory.instance.arrayNode();
    for (Bench.Found found : all) {
      ObjectNode each = node.addObject();
      each.put("magnet", found.magnet());
      each.put("name", found.name());
      each.put("set", found.set());
      each.put("kind", found.kind());
      each.put("verdict", found.verdict());
      if (Double.isFinite(found.readTesla())) {
        each.put("tesla", found.readTesla());
      }
    }
    return node;
  }

  static ObjectNode of(MagnetHistory history) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    LedgerEvent.MagnetNamed named = history.identity();
    node.put("magnet", history.magnet());
    node.put("name", named.name());
    node.put("set", named.set());
    node.put("lot", named.lot());
    node.put("kind", named.alloy() + ", " + named.shape());
    node.put("nest", named.nest());
    node.put("pole", named.poleUp());
    node.put("targetTesla", FluxDensity.ofMicroTesla(named.targetMicroTesla()).tesla());
    node.put("toleranceTesla", FluxDensity.ofMicroTesla(named.toleranceMicroTesla()).tesla());
    node.put("named", history.namedWall().toString());
    history
        .standingVerdict()
        .ifPresent(verdict -> node.put("verdict", verdict.verdict()).put("why", verdict.why()));
    ArrayNode rows = node.putArray("happenings");
    for (Happening happening : history.happenings()) {
      ObjectNode row = rows.addObject();
      row.put("entry", happening.number());
      row.put("wall", happening.wall().toString());
      row.put("attempt", happening.attempt());
      row.put("words", happening.what().match(new Words()));
      if (happening.what() instanceof What.Reading reading) {
        row.put("tesla", FluxDensity.ofMicroTesla(reading.event().fieldMicroTesla()).tesla());
        row.put("u", reading.event().uncertaintyNanoTesla() * 1e-9);
      }
    }
    return node;
  }

  /** What happened, in words. */
  private record Words() implements MagnetHistory.Arms<String> {

    @Override
    public String started(LedgerEvent.MagnetStarted event) {
      return "begun in the " + event.nest();
    }

    @Override
    public String proven(LedgerEvent.BankProven event) {
      return "the parts that end a charge were proven";
    }

    @Override
    public String reading(LedgerEvent.ReadingTaken event) {
      return "read, " + event.stage();
    }

    @Override
    public String acted(ActEvent.Intent intent, Optional<ActEvent.ActEnded> end) {
      String way = intent.drivesNorth() ? "north" : "south";
      return String.format(
          Locale.ROOT,
          "%s, %.1f kA/m %s, by the %s: %s",
          intent.purpose(),
          intent.fieldAmperesPerMetre() / 1000.0,
          way,
          intent.source(),
          end.map(ActEvent.ActEnded::outcome).orElse("end not known"));
    }

    @Override
    public String byHand(LedgerEvent.ActByHand event) {
      return "worked by hand: " + event.act();
    }

    @Override
    public String typed(LedgerEvent.ReadingTyped event) {
      return "another gauge's reading was typed";
    }

    @Override
    public String atPoints(GaugeEvent.PointEvent event) {
      return "read at several points";
    }

    @Override
    public String trip(LedgerEvent.Tripped event) {
      return "trip " + event.code() + ": " + event.cause();
    }

    @Override
    public String corrected(StockEvent event) {
      if (event instanceof StockEvent.MagnetScrapped scrapped) {
        return "scrapped: " + scrapped.why();
      }
      if (event instanceof StockEvent.MagnetWound) {
        return "sits in a winding";
      }
      return event instanceof StockEvent.TargetTold told
          ? "target told by " + told.gauge()
          : "what was written of it was corrected";
    }

    @Override
    public String verdict(LedgerEvent.VerdictGiven event) {
      return event.verdict() + (event.why().isEmpty() ? "" : ": " + event.why());
    }

    @Override
    public String asked(KeepingEvent.KeepingAsked event) {
      return "asked to keep its level";
    }

    @Override
    public String noted(KeepingEvent.MagnetNoted event) {
      return "noted: " + event.what();
    }

    @Override
    public String reread(KeepingEvent.MagnetReread event) {
      return "read again: " + event.finding();
    }
  }
}
