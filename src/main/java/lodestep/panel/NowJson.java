package lodestep.panel;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Comparator;
import java.util.Locale;
import java.util.Optional;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.bench.BatchVerdict;
import lodestep.bench.CheckJob;
import lodestep.bench.Guided;
import lodestep.bench.GuidedStudy;
import lodestep.bench.HandJob;
import lodestep.bench.PoleJob;
import lodestep.bench.SeriesJob;
import lodestep.bench.Standby;
import lodestep.bench.TimeLeft;
import lodestep.config.CoilConfig;
import lodestep.config.RigConfig;
import lodestep.config.RigKind;
import lodestep.dial.Verdict;
import lodestep.port.HandAsk;
import lodestep.port.InputLine;
import lodestep.port.Job;
import lodestep.port.OutputLine;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;

/** What changes from look to look, as the page gets it. SI units. Pure. */
final class NowJson {

  private static final double MILLI = 1e-3;
  private static final double NS_PER_MS = 1e6;
  private static final double COOL_BENCH_DEG_C = 20;
  private static final long READING_NS_MAX = 300_000_000L;

  private NowJson() {}

  /**
   * One look.
   *
   * @param atMs the server's own time, by which commands lapse
   * @param version of the state that a command must have seen
   * @param loopAgeMs time since the control loop last moved
   */
  static ObjectNode of(Look look, RigConfig rig, long atMs, long version, long loopAgeMs) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("run", look.run());
    node.put("at", atMs);
    node.put("version", version);
    node.put("loopAgeMs", loopAgeMs);
    node.put("virtual", rig.kind() == RigKind.VIRTUAL);
    node.put("rig", rig.name());
    node.put("phase", Phase.of(look).word());
    Optional<TripCause> trouble = trouble(look, rig);
    node.put("sentence", trouble.map(TripCause::what).orElseGet(() -> sentence(look)));
    node.put("todo", trouble.map(TripCause::remedy).orElseGet(() -> todo(look)));
    reading(node.putObject("reading"), look);
    if (look.job() instanceof Guided guided) {
      node.put("ask", guided.cue().ask().name().toLowerCase(Locale.ROOT));
      node.put("mayLeaveOut", guided.mayLeaveOut());
      node.put("guides", guides(guided));
    }
    if (look.job() instanceof HandJob hand) {
      HandJson.now(node.putObject("hand"), hand);
    }
    inputs(node.putObject("inputs"), look);
    lamps(node.putArray("lamps"), look);
    head(node.putObject("head"), look);
    look.view().status().ifPresent(status -> energy(node, status.frame(), rig));
    return node;
  }

  /**
   * How long the batch is expected to take still.
   *
   * @param speed seconds of the rig's own time in one of this computer's
   */
  static void left(ObjectNode node, TimeLeft left, double speed) {
    node.put("leastSeconds", Math.round(left.least() / speed));
    node.put("mostSeconds", (long) Math.ceil(left.most() / speed));
    node.put("by", left.by().name().toLowerCase(Locale.ROOT));
    node.put("magnets", left.magnets());
    node.put("alloys", left.alloys());
  }

  /** Which work a person is guided in: a word that the page has its own for. */
  private static String guides(Guided job) {
    if (job instanceof CheckJob) {
      return "check";
    }
    if (job instanceof HandJob) {
      return "hand";
    }
    return job instanceof PoleJob ? "poles" : "study";
  }

  /** At a head alone no interlock judges; what would be a trip elsewhere is said all the same. */
  private static Optional<TripCause> trouble(Look look, RigConfig rig) {
    if (!rig.headAlone() || look.failed().isPresent()) {
      return Optional.empty();
    }
    View view = look.view();
    boolean heard =
        view.status()
            .filter(line -> view.nowNs() - line.receivedAtNs() <= rig.limits().statusAgeTripNs())
            .isPresent();
    return view.ledger().fault().isPresent()
        ? Optional.of(TripCause.LEDGER_FAILED)
        : Optional.of(TripCause.HEAD_SILENT).filter(cause -> !heard);
  }

  private static String sentence(Look look) {
    if (look.failed().isPresent()) {
      return "the program found an error in itself and lowered everything: " + look.failed().get();
    }
    Optional<Trip> trip = look.view().trip();
    if (trip.isPresent()) {
      return trip.get().cause().what();
    }
    if (look.job() instanceof BatchVerdict.Showing shown) {
      return shown.name() + " " + shown.end().verdict().word() + "; take it out";
    }
    if (look.job() instanceof BatchJob.Done done) {
      return over(done.batch());
    }
    if (look.job() instanceof Guided guided) {
      return byTouch(guided.sentence());
    }
    return look.job() instanceof BatchJob job ? job.sentence() : ((Standby) look.job()).sentence();
  }

  /** A guided job asks for a key that no page has: there the button that says so is pressed. */
  private static String byTouch(String sentence) {
    return sentence
        .replace(", and press Enter: the gauge takes its zero.", ". Then the gauge takes its zero.")
        .replace(
            ", then press Enter: the gauge takes its zero.", ". Then the gauge takes its zero.")
        .replace(
            ", and press Enter; with nothing stronger at hand type n and Enter.",
            "; with nothing stronger at hand, leave it so.")
        .replace("; if nothing follows, press Enter.", "; if nothing follows, say that it is done.")
        .replace(", and press Enter.", ".")
        .replace(
            " and press Enter for a reading as left; or type n and Enter to leave it so.",
            ", and take a reading as left; or leave it so.")
        .replace(" Then press Enter.", "");
  }

  private static String over(Batch batch) {
    long open = batch.open();
    return String.format(
        Locale.ROOT,
        "the batch '%s' is over: %d of %d accepted%s",
        batch.name(),
        batch.count(Verdict.ACCEPTED),
        batch.entries().size(),
        open > 0 ? ", " + open + " not done" : "");
  }

  /** What stands under the sentence: the rest of it, or what a person must do. */
  private static String todo(Look look) {
    if (look.view().trip().isPresent()) {
      return look.view().trip().get().cause().remedy();
    }
    if (look.job() instanceof BatchJob.Dialing dialing && isHeldUpByTheLid(look.view(), dialing)) {
      return "the lid is open: close it, so that the work can go on";
    }
    return look.job() instanceof BatchVerdict.Showing shown ? shown.end().why() : "";
  }

  /** Nothing is energised with the lid open, which is no trip while nothing was. */
  private static boolean isHeldUpByTheLid(View view, BatchJob.Dialing dialing) {
    boolean shut = closed(view, InputLine.LID_A) && closed(view, InputLine.LID_B);
    return !shut && dialing.cue().ask() == HandAsk.WAIT;
  }

  private static void reading(ObjectNode node, Look look) {
    if (isKept(look.job())) {
      node.put("kept", true);
      node.put("wander", 0);
      node.put("zeroed", look.zeroed());
      node.put("says", "");
      return;
    }
    look.gauge()
        .value()
        .filter(value -> isFresh(look))
        .ifPresent(value -> node.put("tesla", value.tesla()));
    look.gauge().smallest().ifPresent(value -> node.put("smallest", value.tesla()));
    look.gauge().largest().ifPresent(value -> node.put("largest", value.tesla()));
    look.gauge().held().ifPresent(held -> node.put("held", held.tesla()));
    node.put("wander", look.gauge().wander().tesla());
    node.put("zeroed", look.zeroed());
    node.put("says", look.gaugeSays());
    look.gauge()
        .ageNs(look.view().nowNs())
        .ifPresent(age -> node.put("ageMs", Math.round(age / NS_PER_MS)));
  }

  /** In a crossed study nobody sees a reading before its end, so that none leads anybody. */
  private static boolean isKept(Job job) {
    return job instanceof SeriesJob series
        && !series.over()
        && series.series().work().placings().stream()
            .anyMatch(one -> one instanceof GuidedStudy.Seating seat && !seat.person().isEmpty());
  }

  /** What the gauge has not said for so long is no reading of now. */
  private static boolean isFresh(Look look) {
    return look.gauge().ageNs(look.view().nowNs()).filter(age -> age <= READING_NS_MAX).isPresent();
  }

  private static void inputs(ObjectNode node, Look look) {
    View view = look.view();
    node.put("lid", view.contacts().closed(InputLine.LID_A) && closed(view, InputLine.LID_B));
    node.put("lidOpen", !closed(view, InputLine.LID_A) && !closed(view, InputLine.LID_B));
    node.put("key", closed(view, InputLine.ARM_KEY));
    node.put("pedal", closed(view, InputLine.START_PEDAL));
    node.put("seat", look.seated());
    node.put("stopLoop", closed(view, InputLine.STOP_LOOP));
  }

  private static boolean closed(View view, InputLine line) {
    return view.contacts().closed(line);
  }

  private static void lamps(ArrayNode node, Look look) {
    for (OutputLine line : OutputLine.values()) {
      if (look.driven().isHigh(line)) {
        node.add(line.name().toLowerCase(Locale.ROOT));
      }
    }
  }

  private static void head(ObjectNode node, Look look) {
    View view = look.view();
    node.put("open", view.link().open());
    node.put("words", view.link().words());
    view.status()
        .ifPresent(
            status -> {
              node.put("ageMs", Math.round((view.nowNs() - status.receivedAtNs()) / NS_PER_MS));
              node.put("chain", status.frame().has(HeadFlag.CHAIN));
              node.put("permit", status.frame().has(HeadFlag.PERMIT));
            });
  }

  /**
   * The heat in the winding above a cool bench, by its thermometer, and how much of it the coil
   * bears: heat capacity times kelvin. It dies away with heat capacity times cooling (Newton's law
   * of cooling). Of several coils the one that bears least.
   */
  private static void heat(ObjectNode node, RigConfig rig, double degC) {
    rig.coils().stream()
        .min(Comparator.comparingDouble(NowJson::bearsJoules))
        .ifPresent(
            coil -> {
              double joules = coil.heatJoulesPerKelvin() * Math.max(0, degC - COOL_BENCH_DEG_C);
              node.put("heatJoules", joules);
              node.put("heatMost", bearsJoules(coil));
              node.put(
                  "halfSeconds",
                  Math.log(2) * coil.heatJoulesPerKelvin() * coil.coolingKelvinPerWatt());
            });
  }

  private static double bearsJoules(CoilConfig coil) {
    return coil.heatJoulesPerKelvin() * (coil.temperatureMax().degC() - COOL_BENCH_DEG_C);
  }

  private static void energy(ObjectNode node, HeadFrame.Status status, RigConfig rig) {
    if (rig.hasBank()) {
      ObjectNode bank = node.putObject("bank");
      bank.put("volts", status.bankMilliVolts() * MILLI);
      bank.put("most", rig.bank().voltageMax().volts());
      bank.put("low", rig.limits().bankLow().volts());
    }
    if (!rig.coils().isEmpty()) {
      ObjectNode coil = node.putObject("coil");
      coil.put("degC", status.coilCentiDegC() / 100.0);
      coil.put(
          "most",
          rig.coils().stream().mapToDouble(each -> each.temperatureMax().degC()).min().orElse(0));
      coil.put("amps", status.coilMilliAmps() * MILLI);
      heat(coil, rig, status.coilCentiDegC() / 100.0);
    }
    if (rig.jig().isPresent()) {
      ObjectNode jig = node.putObject("jig");
      jig.put("metres", status.positionMicroMetres() * 1e-6);
      jig.put("homed", status.has(HeadFlag.HOMED));
    }
    node.put("gaugeDegC", status.gaugeCentiDegC() / 100.0);
  }
}
