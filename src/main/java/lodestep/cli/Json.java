package lodestep.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import lodestep.bench.Entry;
import lodestep.bench.Plan;
import lodestep.bench.PlanRow;
import lodestep.bench.PointsAsked;
import lodestep.bench.WoundPickup;
import lodestep.config.HeadConfig;
import lodestep.config.NestConfig;
import lodestep.config.RigConfig;
import lodestep.dial.Progress;
import lodestep.ledger.ClockMarks;
import lodestep.ledger.EventCodec;
import lodestep.ledger.MagnetHistory;
import lodestep.ledger.Pickup;
import lodestep.ledger.Proof;
import lodestep.measure.LiveReading;
import lodestep.measure.SettledReading;
import lodestep.port.ActEvent;
import lodestep.port.ChainEnd;
import lodestep.port.GaugeEvent;
import lodestep.port.KeepingEvent;
import lodestep.port.LedgerEvent;
import lodestep.port.StockEvent;
import lodestep.port.TripCause;
import lodestep.quantity.FluxDensity;

/**
 * What commands say with {@code --json}. Names end in their unit; those of records are the record's
 * own, so flux density is in microtesla and positive where the face read is north.
 */
final class Json {

  private static final JsonMapper MAPPER = JsonMapper.builder().build();

  private Json() {}

  static ObjectNode object() {
    return MAPPER.createObjectNode();
  }

  static ArrayNode array() {
    return MAPPER.createArrayNode();
  }

  /**
   * A record of plain figures, by the names of its components. JSON has no word for infinity: such
   * a figure is null, and a member of its name with {@code Why} behind says so.
   */
  static JsonNode ofRecord(Record figures) {
    JsonNode node = MAPPER.valueToTree(figures);
    finite(node);
    return node;
  }

  private static void finite(JsonNode node) {
    if (node instanceof ObjectNode object) {
      for (String name : List.copyOf(namesOf(object))) {
        JsonNode value = object.get(name);
        if (value.isFloatingPointNumber() && !Double.isFinite(value.asDouble())) {
          object.putNull(name);
          object.put(
              name + "Why",
              Double.isNaN(value.asDouble()) ? "no number" : "infinite: known exactly");
        }
      }
    }
    node.forEach(Json::finite);
  }

  private static List<String> namesOf(ObjectNode object) {
    List<String> names = new ArrayList<>();
    object.fieldNames().forEachRemaining(names::add);
    return names;
  }

  static JsonNode ofOutcome(Program.Run run, Program.Outcome outcome) {
    ObjectNode node = MAPPER.createObjectNode();
    node.put("rig", run.rig().name());
    node.put("rigKind", run.rig().kind().word());
    node.put("ledger", run.ledgerFile().toString());
    node.put("batch", outcome.batch().number());
    node.put("plan", outcome.batch().name());
    node.put("planSha256", outcome.batch().planSha256());
    node.put("planner", run.mode().word());
    node.put("tripped", outcome.tripped());
    node.put("stopped", outcome.stopped());
    node.put("open", outcome.batch().open());
    node.put("rigSeconds", outcome.rigSeconds());
    ArrayNode magnets = node.putArray("magnets");
    outcome.batch().entries().forEach(entry -> magnets.add(ofEntry(entry)));
    return node;
  }

  private static ObjectNode ofEntry(Entry entry) {
    ObjectNode node = ofRow(entry.prepared().row(), entry.name());
    node.put("magnet", entry.magnet());
    node.put("attempts", entry.attempts());
    Optional<Progress> result = entry.result();
    Optional<SettledReading> last = result.flatMap(Progress::last);
    last.ifPresent(reading -> node.put("fieldMicroTesla", reading.value().microTesla()));
    last.flatMap(reading -> entry.prepared().row().told().flatMap(by -> by.reads(reading)))
        .ifPresent(level -> node.put("toldFieldMicroTesla", level.value().microTesla()));
    result.ifPresent(
        progress -> {
          node.put("charges", progress.counts().charges());
          node.put("knockDowns", progress.counts().knockDowns());
          node.put("demagnetising", progress.counts().demagnetising());
        });
    node.put("verdict", entry.end().map(end -> end.verdict().word()).orElse("open"));
    node.put("why", entry.end().map(end -> end.why()).orElse(""));
    return node;
  }

  private static ObjectNode ofRow(PlanRow row, String name) {
    ObjectNode node = MAPPER.createObjectNode();
    node.put("name", name);
    node.put("line", row.line());
    node.put("set", row.set().orElse(""));
    node.put("alloy", row.alloy().name());
    node.put("shape", row.shape().words());
    node.put("winding", row.winding().map(WoundPickup::words).orElse(""));
    node.put("toldBy", row.told().map(PlanRow.Told::gauge).orElse(""));
    node.put("toldTarget", row.told().map(told -> told.level().targetWords()).orElse(""));
    node.put("toldTolerance", row.told().map(told -> told.level().toleranceWords()).orElse(""));
    node.put("readAt", row.readAt().map(PointsAsked::words).orElse(""));
    node.put("counts", row.readAt().map(at -> at.counts().words()).orElse(""));
    node.put("nest", row.nest().name());
    node.put("standOffMicroMetres", row.nest().standOff().microMetres());
    node.put("poleUp", row.poleUp().word());
    node.put("task", row.task().word());
    node.put("target", row.task().targetWords());
    node.put("tolerance", row.task().toleranceWords());
    row.spread().ifPresent(part -> node.put("spreadFraction", part));
    row.keep()
        .survives()
        .ifPresent(field -> node.put("survivesAmperesPerMetre", field.amperesPerMetre()));
    row.keep().readAfter().ifPresent(span -> node.put("readAfterSeconds", span.seconds()));
    return node;
  }

  static JsonNode ofPlan(Plan plan, List<String> doubts) {
    ObjectNode node = MAPPER.createObjectNode();
    node.put("plan", plan.name());
    node.put("planSha256", plan.sha256());
    ArrayNode rows = node.putArray("rows");
    for (PlanRow row : plan.rows()) {
      ObjectNode each = ofRow(row, row.name());
      each.put("count", row.count());
      rows.add(each);
    }
    ArrayNode told = node.putArray("doubts");
    doubts.forEach(told::add);
    return node;
  }

  /** A history that stands in a record whose clock is known. */
  static JsonNode ofHistory(MagnetHistory history, SortedMap<Long, ClockMarks.Mark> clock) {
    JsonNode node = ofHistory(history);
    for (JsonNode each : node.path("happenings")) {
      if (each instanceof ObjectNode happening) {
        happening.put("timeDoubt", ClockWords.doubt(clock, happening.path("entry").asLong()));
      }
    }
    return node;
  }

  static JsonNode ofHistory(MagnetHistory history) {
    ObjectNode node = MAPPER.createObjectNode();
    node.put("magnet", history.magnet());
    node.put("named", history.namedWall().toString());
    node.set("identity", ofEvent(history.identity()));
    node.put("toBeReadAgain", history.toBeReadAgain().isPresent());
    ArrayNode happenings = node.putArray("happenings");
    for (MagnetHistory.Happening happening : history.happenings()) {
      ObjectNode each = happening.what().match(new Happened());
      each.put("entry", happening.number());
      each.put("wall", happening.wall().toString());
      each.put("attempt", happening.attempt());
      happenings.add(each);
    }
    return node;
  }

  static ObjectNode ofPickup(Pickup pickup) {
    ObjectNode node = MAPPER.createObjectNode();
    node.put("pickup", pickup.number());
    node.put("onRecord", pickup.wall().toString());
    node.set("event", ofEvent(pickup.built()));
    ArrayNode rounds = node.putArray("rounds");
    for (Pickup.Round round : pickup.rounds()) {
      ObjectNode each = rounds.addObject();
      each.put("round", round.round());
      each.put("stage", round.stage());
      each.put("wall", round.wall().toString());
      ArrayNode poles = each.putArray("poles");
      round.poles().forEach(top -> poles.add(ofEvent(top)));
    }
    ArrayNode judged = node.putArray("returnChecks");
    pickup.judged().forEach(each -> judged.add(ofEvent(each.event())));
    return node;
  }

  private static ObjectNode ofEvent(LedgerEvent event) {
    return MAPPER.valueToTree(event);
  }

  private static ObjectNode happened(String what, LedgerEvent event) {
    ObjectNode node = MAPPER.createObjectNode();
    node.put("what", what);
    node.set("event", ofEvent(event));
    return node;
  }

  private static final class Happened implements MagnetHistory.Arms<ObjectNode> {

    @Override
    public ObjectNode started(LedgerEvent.MagnetStarted event) {
      return happened("started", event);
    }

    @Override
    public ObjectNode proven(LedgerEvent.BankProven event) {
      return happened("bank proven", event);
    }

    @Override
    public ObjectNode reading(LedgerEvent.ReadingTaken event) {
      return happened("reading", event);
    }

    @Override
    public ObjectNode acted(ActEvent.Intent intent, Optional<ActEvent.ActEnded> end) {
      ObjectNode node = happened("pulse", intent);
      end.ifPresent(ended -> node.set("end", ofEvent(ended)));
      return node;
    }

    @Override
    public ObjectNode byHand(LedgerEvent.ActByHand event) {
      return happened("act by hand", event);
    }

    @Override
    public ObjectNode typed(LedgerEvent.ReadingTyped event) {
      return happened("typed reading of another gauge", event);
    }

    @Override
    public ObjectNode atPoints(GaugeEvent.PointEvent event) {
      return happened(EventCodec.kind(event.getClass()).replace('-', ' '), event);
    }

    @Override
    public ObjectNode trip(LedgerEvent.Tripped event) {
      return happened("trip", event);
    }

    @Override
    public ObjectNode corrected(StockEvent event) {
      boolean planned =
          event instanceof StockEvent.MagnetWound || event instanceof StockEvent.TargetTold;
      return happened(planned ? EventWords.kind(event) : "corrected", event);
    }

    @Override
    public ObjectNode verdict(LedgerEvent.VerdictGiven event) {
      return happened("verdict", event);
    }

    @Override
    public ObjectNode asked(KeepingEvent.KeepingAsked event) {
      return happened("asked to keep", event);
    }

    @Override
    public ObjectNode noted(KeepingEvent.MagnetNoted event) {
      return happened("noted", event);
    }

    @Override
    public ObjectNode reread(KeepingEvent.MagnetReread event) {
      return happened("read again", event);
    }
  }

  static JsonNode ofLive(RigConfig rig, NestConfig nest, HeadWork.Live live) {
    LiveReading reading = live.reading();
    ObjectNode node = MAPPER.createObjectNode();
    node.put("rigKind", rig.kind().word());
    node.put("nest", nest.name());
    node.put("standOffMicroMetres", nest.standOff().microMetres());
    node.put("seconds", live.seconds());
    reading.value().ifPresent(value -> node.put("fieldMicroTesla", value.microTesla()));
    node.put("pole", reading.value().map(LiveWords::pole).orElse(""));
    reading
        .held()
        .ifPresent(kept -> node.put("heldMicroTesla", new FluxDensity(kept.tesla()).microTesla()));
    live.heldSeconds().ifPresent(age -> node.put("heldSeconds", age));
    reading.smallest().ifPresent(value -> node.put("smallestMicroTesla", value.microTesla()));
    reading.largest().ifPresent(value -> node.put("largestMicroTesla", value.microTesla()));
    node.put("wanderMicroTesla", reading.wander().microTesla());
    live.ageSeconds().ifPresent(age -> node.put("ageSeconds", age));
    node.put("silence", live.silence().orElse(""));
    return node;
  }

  static JsonNode ofHand(HeadWork.HandRun run, HeadWork.HandOutcome outcome) {
    ObjectNode node = ofRow(run.row(), outcome.hand().name());
    node.put("rig", run.rig().name());
    node.put("rigKind", run.rig().kind().word());
    node.put("ledger", run.ledgerFile().toString());
    node.put("magnet", outcome.hand().magnet());
    outcome
        .hand()
        .last()
        .ifPresent(reading -> node.put("fieldMicroTesla", reading.value().microTesla()));
    node.put("acts", outcome.hand().acts());
    node.put("verdict", outcome.verdict().word());
    node.put("why", outcome.why());
    node.put("rigSeconds", outcome.seconds());
    return node;
  }

  /** Up to which event it is known that nothing was cut off stands beside what is whole. */
  static JsonNode ofProof(Proof.Result result, Optional<String> around, List<ChainEnd> anchors) {
    ObjectNode node = MAPPER.createObjectNode();
    return result.match(
        whole ->
            node.put("whole", around.isEmpty())
                .put("file", around.orElse(""))
                .put("events", whole.events())
                .put("newestEvent", whole.end().number())
                .put("newestHash", whole.end().hash().toString())
                .put("notedUpToEvent", Proof.newestNoted(anchors)),
        broken -> node.put("whole", false).put("event", broken.number()).put("why", broken.what()));
  }

  static JsonNode ofCause(TripCause cause) {
    return MAPPER
        .createObjectNode()
        .put("trip", cause.code())
        .put("what", cause.what())
        .put("why", cause.why())
        .put("do", cause.remedy());
  }

  static JsonNode ofFigures(List<Program.Figure> figures) {
    return MAPPER.valueToTree(figures);
  }

  static JsonNode ofSoak(SoakWork.SoakFigures figures) {
    ObjectNode node = MAPPER.valueToTree(figures);
    node.put(
        "rigYearsAnHour", SoakTable.yearsAnHour(figures.all().rigSeconds(), figures.wallSeconds()));
    return node;
  }

  static JsonNode ofReplay(SoakWork.SoakReplay replayed) {
    ObjectNode node = MAPPER.createObjectNode();
    node.set("saved", MAPPER.valueToTree(replayed.saved()));
    node.put("again", replayed.again().orElse(""));
    return node;
  }

  /** The rig's own records, quantities by their SI unit. */
  static ObjectNode ofRig(RigConfig rig) {
    ObjectNode node = MAPPER.valueToTree(rig);
    boolean serial = rig.head() instanceof HeadConfig.SerialHead;
    ((ObjectNode) node.get("head")).put("kind", serial ? "serial" : "inside the program");
    return node;
  }
}
