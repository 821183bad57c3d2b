package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.Entry;
import lodestep.bench.HandJob;
import lodestep.bench.PlanRow;
import lodestep.bench.PoleJob;
import lodestep.config.NestConfig;
import lodestep.dial.Dial;
import lodestep.dial.DialState;
import lodestep.dial.Explained;
import lodestep.dial.Foreseen;
import lodestep.dial.Progress;
import lodestep.dial.Task;
import lodestep.dial.Verdict;
import lodestep.port.Trip;
import lodestep.quantity.FluxDensity;

/** What changes seldom: batch, curve, interlocks, trip. SI units. Pure. */
final class BenchJson {

  private BenchJson() {}

  /**
   * The bench as one look has it.
   *
   * @param sinceMs the server's time since which each interlock says what it says, by its code
   */
  static ObjectNode of(Look look, Optional<String> leftOpen, Map<Integer, Long> sinceMs) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    leftOpen.ifPresent(name -> node.put("leftOpen", name));
    look.view().trip().ifPresent(trip -> trip(node.putObject("trip"), trip));
    interlocks(node.putArray("interlocks"), look.says(), sinceMs);
    look.unmet().forEach(node.putArray("unmet")::add);
    if (look.job() instanceof PoleJob poles) {
      PickupJson.reading(node.putObject("poles"), poles);
    }
    if (look.job() instanceof HandJob hand) {
      HandJson.bench(node.putObject("hand"), hand);
    }
    if (look.job() instanceof BatchJob job) {
      batch(node.putObject("batch"), job);
      dial(job).ifPresent(dial -> curve(node.putObject("curve"), job, dial));
    }
    return node;
  }

  private static void trip(ObjectNode node, Trip trip) {
    node.put("code", trip.cause().code());
    node.put("what", trip.cause().what());
    node.put("why", trip.cause().why());
    node.put("remedy", trip.cause().remedy());
    node.put("detail", trip.detail());
  }

  /** The latched one first, then what is there, then all others by their number. */
  private static void interlocks(
      ArrayNode node, List<Bench.Saying> says, Map<Integer, Long> sinceMs) {
    says.stream()
        .sorted(
            Comparator.comparing((Bench.Saying saying) -> !saying.latched())
                .thenComparing(saying -> !saying.present())
                .thenComparing(saying -> saying.cause().code()))
        .forEach(
            saying -> {
              ObjectNode each = node.addObject();
              each.put("code", saying.cause().code());
              each.put("what", saying.cause().what());
              each.put("remedy", saying.cause().remedy());
              each.put("present", saying.present());
              each.put("latched", saying.latched());
              each.put("by", saying.enforcers());
              each.put("sinceMs", sinceMs.getOrDefault(saying.cause().code(), 0L));
            });
  }

  private static void batch(ObjectNode node, BatchJob job) {
    Batch batch = job.batch();
    node.put("name", batch.name());
    node.put("number", batch.number());
    node.put("open", batch.open());
    node.put("accepted", batch.count(Verdict.ACCEPTED));
    node.put("refused", batch.count(Verdict.REFUSED) + batch.count(Verdict.RECHARGE_NEEDED));
    sampled(batch).ifPresent(lot -> node.put("sampled", lot));
    String next = batch.next().map(Entry::name).orElse("");
    ArrayNode rows = node.putArray("magnets");
    for (Entry entry : batch.entries()) {
      row(rows.addObject(), entry, entry.name().equals(next), job);
    }
  }

  /** The lot of which all magnets of this batch are, where each is only charged and read. */
  private static Optional<String> sampled(Batch batch) {
    List<PlanRow> rows = batch.entries().stream().map(entry -> entry.prepared().row()).toList();
    List<String> lots = rows.stream().flatMap(row -> row.lot().stream()).distinct().toList();
    boolean all =
        rows.stream()
            .allMatch(row -> row.lot().isPresent() && row.task() instanceof Task.FullCharge);
    return all && lots.size() == 1 ? Optional.of(lots.get(0)) : Optional.empty();
  }

  private static void row(ObjectNode node, Entry entry, boolean next, BatchJob job) {
    PlanRow row = entry.prepared().row();
    node.put("name", entry.name());
    node.put("set", row.set().orElse(""));
    node.put("magnet", entry.magnet());
    node.put("kind", row.alloy().name() + ", " + row.shape().words());
    node.put("nest", row.nest().name());
    node.put("pole", row.poleUp().word());
    task(node, row.task());
    boolean working = next && job.magnet() != 0 && job.magnet() == entry.magnet();
    node.put("state", working ? "working" : state(entry, next));
    entry.end().ifPresent(end -> node.put("why", end.why()));
    entry
        .result()
        .ifPresent(
            progress -> {
              progress.last().ifPresent(last -> node.put("tesla", last.value().tesla()));
              node.put("pulses", progress.counts().pulses());
            });
    advice(entry).ifPresent(code -> node.put("advice", code));
  }

  private static void task(ObjectNode node, Task task) {
    node.put("task", task.word());
    node.put("target", task.targetWords());
    node.put("tolerance", task.toleranceWords());
    if (task instanceof Task.ToLevel level) {
      node.put("targetTesla", level.target().tesla());
      node.put("toleranceTesla", level.tolerance().tesla());
    }
  }

  private static String state(Entry entry, boolean next) {
    if (entry.done()) {
      return entry.end().orElseThrow().verdict().name().toLowerCase(Locale.ROOT);
    }
    return next ? "next" : "open";
  }

  /** What to do with a magnet that was not accepted: a word that the page has a sentence for. */
  static Optional<String> advice(Entry entry) {
    if (entry.end().isEmpty() || entry.end().get().verdict() == Verdict.ACCEPTED) {
      return Optional.empty();
    }
    Verdict verdict = entry.end().get().verdict();
    if (verdict == Verdict.TRIPPED) {
      return Optional.of("again");
    }
    if (verdict == Verdict.RECHARGE_NEEDED) {
      return Optional.of("recharge");
    }
    Optional<FluxDensity> read =
        entry.result().flatMap(Progress::last).map(last -> last.value().magnitude());
    if (entry.prepared().row().task() instanceof Task.ToLevel level && read.isPresent()) {
      boolean below =
          read.get().tesla() < level.target().magnitude().tesla() - level.tolerance().tesla();
      return Optional.of(below ? "lower" : "look");
    }
    return Optional.of("look");
  }

  /** The attempt under way, or the one whose verdict is being written. */
  private static Optional<Dial> dial(BatchJob job) {
    return job instanceof BatchJob.Dialing dialing
        ? Optional.of(dialing.dial().dial())
        : Optional.empty();
  }

  private static void curve(ObjectNode node, BatchJob job, Dial dial) {
    node.put("name", ((BatchJob.Dialing) job).entry().name());
    NestConfig nest = dial.work().nest();
    node.put("nest", nest.name());
    node.put("standOffMetres", nest.standOff().metres());
    node.put("pole", dial.work().pole().word());
    node.put("fullTesla", Foreseen.expectedFull(dial).tesla());
    node.put("acting", ((BatchJob.Dialing) job).dial() instanceof DialState.Acting);
    Foreseen.level(dial)
        .ifPresent(
            level -> {
              node.put("targetTesla", level.target().magnitude().tesla());
              node.put("toleranceTesla", level.tolerance().tesla());
            });
    points(node.putArray("points"), dial.progress().points());
    node.put("rounds", dial.progress().earlier().size() + 1);
    dial.progress().last().ifPresent(last -> node.put("settledTesla", last.value().tesla()));
    node.put("pulses", dial.progress().counts().pulses());
    ArrayNode belief = node.putArray("belief");
    for (Explained.FieldFor point : Foreseen.curve(dial)) {
      belief
          .addArray()
          .add(point.level().tesla())
          .add(point.least().amperesPerMetre())
          .add(point.expected().amperesPerMetre())
          .add(point.most().amperesPerMetre());
    }
  }

  private static void points(ArrayNode node, List<Progress.Point> points) {
    for (Progress.Point point : points) {
      node.addArray().add(point.fieldAperM()).add(point.levelTesla());
    }
  }
}
