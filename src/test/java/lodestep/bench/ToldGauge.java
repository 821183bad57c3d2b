package lodestep.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lodestep.measure.GaugeCalibration;
import lodestep.port.Command;
import lodestep.port.Contacts;
import lodestep.port.HandAsk;
import lodestep.port.JobStep;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;
import lodestep.port.LinkState;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.Temperature;

/** A guided job with a gauge that reads as told, a line of the head a scan. */
final class ToldGauge {

  static final GaugeCalibration CALIBRATION =
      new GaugeCalibration(500_000, 0, Temperature.ofDegC(20), 0.001);

  private static final long LINE_NS = 10_000_000L;

  final List<LedgerEvent> events = new ArrayList<>();
  Guided job;
  double gauss;

  /** By how much the reading moves in a second, in gauss. */
  double drift;

  private long nowNs = 5_000_000_000L;
  private int sequence;

  ToldGauge(Guided job) {
    this.job = job;
  }

  void step(Command... commands) {
    nowNs += LINE_NS;
    sequence++;
    gauss += drift * LINE_NS * 1e-9;
    // A gauge with a count of noise: one that stands still to the digit would be frozen.
    int counts = (int) Math.round(gauss * 50) + sequence % 2;
    HeadFrame.Status line =
        new HeadFrame.Status(sequence, 1, 0, sequence % 256, counts, 2000, 2000, 0, 0, 0, 0);
    View view =
        new View(
            nowNs,
            Instant.EPOCH,
            new Contacts(0, nowNs),
            List.of(new ReceivedFrame(line, nowNs)),
            Optional.of(new View.Status(line, nowNs)),
            new LinkState(true, 0, ""),
            Outputs.ALL_LOW,
            Outputs.ALL_LOW,
            false,
            Optional.empty(),
            events.size() + 1L,
            new LedgerState(0, Optional.empty()),
            List.of(commands),
            Optional.empty());
    JobStep next = job.step(view);
    assertThat(next.wanted()).isEqualTo(Outputs.ALL_LOW);
    assertThat(next.permit()).isFalse();
    events.addAll(next.events());
    job = (Guided) next.next();
  }

  /** Steps on until it is asked for something else than to wait. */
  void settle() {
    for (int i = 0; i < 4000 && job.cue().ask() == HandAsk.WAIT; i++) {
      step();
    }
  }

  /** The gauge reads this, and a person says that the thing is done. */
  void done(double reads) {
    gauss = reads;
    step(Command.CONTINUE);
    settle();
  }

  /** The gauge reads this for so long, and nobody says anything. */
  void reads(double reads, double seconds) {
    gauss = reads;
    for (int i = 0; i < seconds * 100; i++) {
      step();
    }
  }

  <E extends LedgerEvent> List<E> all(Class<E> kind) {
    return events.stream().filter(kind::isInstance).map(kind::cast).toList();
  }
}
