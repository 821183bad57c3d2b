package lodestep.panel;

import io.micrometer.core.instrument.FunctionCounter;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.prometheusmetrics.PrometheusConfig;
import io.micrometer.prometheusmetrics.PrometheusMeterRegistry;
import java.util.Locale;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import lodestep.bench.Batch;
import lodestep.bench.BatchJob;
import lodestep.dial.Verdict;
import lodestep.protocol.HeadFrame;

/**
 * Figures of the rig that runs, for whoever keeps them over the years: in the text form that
 * Prometheus takes, made by Micrometer. Any thread; one look at the rig each time.
 */
final class Metrics {

  /** As Prometheus asks for it. */
  static final String TYPE = "text/plain; version=0.0.4; charset=utf-8";

  private static final double MILLI = 1e-3;

  private final PrometheusMeterRegistry registry =
      new PrometheusMeterRegistry(PrometheusConfig.DEFAULT);
  private final Bench bench;
  private Look look;
  private Bench.Punctual punctual;

  Metrics(Bench bench) {
    this.bench = bench;
    this.look = bench.look();
    this.punctual = bench.punctual();
    loop();
    energy();
    work();
  }

  /** All of them, as they are now. */
  synchronized String text() {
    look = bench.look();
    punctual = bench.punctual();
    return registry.scrape();
  }

  private void loop() {
    FunctionCounter.builder("lodestep.scans", this, it -> it.punctual.scans())
        .description("Scans of the control loop since the program began.")
        .register(registry);
    FunctionCounter.builder("lodestep.scans.late", this, it -> it.punctual.overruns())
        .description("Scans that came more than 20 ms late by this computer's clock.")
        .register(registry);
    gauge(
        "lodestep.scan.worst.late",
        "seconds",
        "How late the latest scan of all came, by this computer's clock.",
        it -> it.punctual.worstLateSeconds());
    gauge(
        "lodestep.record.durable",
        "entry",
        "Newest entry of the ledger that is safe on disk.",
        it -> it.look.view().ledger().durableTo());
    gauge(
        "lodestep.record.faulty",
        "",
        "1 while the ledger cannot be written.",
        it -> it.look.view().ledger().fault().isPresent() ? 1 : 0);
  }

  private void energy() {
    gauge(
        "lodestep.bank", "volts", "Across the bank.", it -> it.of(f -> f.bankMilliVolts() * MILLI));
    gauge(
        "lodestep.coil.current",
        "amperes",
        "Through the coil.",
        it -> it.of(f -> f.coilMilliAmps() * MILLI));
    gauge(
        "lodestep.coil.temperature",
        "celsius",
        "Of the coil.",
        it -> it.of(f -> f.coilCentiDegC() / 100.0));
    gauge(
        "lodestep.gauge.temperature",
        "celsius",
        "Of the gauge.",
        it -> it.of(f -> f.gaugeCentiDegC() / 100.0));
    gauge(
        "lodestep.reading",
        "tesla",
        "The live reading, signed.",
        it -> it.look.gauge().value().map(value -> value.tesla()).orElse(Double.NaN));
  }

  private void work() {
    for (Phase phase : Phase.values()) {
      Gauge.builder("lodestep.phase", this, it -> Phase.of(it.look) == phase ? 1 : 0)
          .description("1 for the kind of moment it is at the rig.")
          .tag("phase", phase.word())
          .register(registry);
    }
    gauge(
        "lodestep.tripped",
        "",
        "Number of the trip that stands; 0 while none does.",
        it -> it.look.view().trip().map(trip -> trip.cause().code()).orElse(0));
    for (Verdict verdict : Verdict.values()) {
      Gauge.builder("lodestep.batch.magnets", this, it -> it.count(verdict))
          .description("Magnets of the batch under way, by their verdict.")
          .tag("verdict", verdict.name().toLowerCase(Locale.ROOT))
          .register(registry);
    }
    gauge(
        "lodestep.batch.open",
        "magnets",
        "Magnets of the batch under way without a verdict.",
        it -> it.batch().map(Batch::open).orElse(0L));
  }

  private void gauge(String name, String unit, String what, ToDoubleFunction<Metrics> figure) {
    Gauge.Builder<Metrics> gauge = Gauge.builder(name, this, figure).description(what);
    if (!unit.isEmpty()) {
      gauge.baseUnit(unit);
    }
    gauge.register(registry);
  }

  private double of(ToDoubleFunction<HeadFrame.Status> figure) {
    return look.view()
        .status()
        .map(status -> figure.applyAsDouble(status.frame()))
        .orElse(Double.NaN);
  }

  private Optional<Batch> batch() {
    return look.job() instanceof BatchJob job ? Optional.of(job.batch()) : Optional.empty();
  }

  private double count(Verdict verdict) {
    return batch().map(batch -> batch.count(verdict)).orElse(0L);
  }
}
