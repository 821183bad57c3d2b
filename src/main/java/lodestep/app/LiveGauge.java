package lodestep.app;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import lodestep.measure.GaugeCalibration;
import lodestep.measure.LiveReading;
import lodestep.measure.SettlingRule;
import lodestep.measure.Zeroing;
import lodestep.panel.Bench;
import lodestep.port.HeadLink;
import lodestep.port.LinkState;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Temperature;

/**
 * The live reading of a running rig. The control loop leaves each line it takes in a bounded queue
 * and waits for nobody; whoever looks takes them out. Any thread.
 */
final class LiveGauge {

  /** Some seconds of lines: a look that comes later has lost the oldest ones, as it should. */
  private static final int ROOM = 512;

  /** A first zero further from none than this is no offset. Common practice, no source. */
  private static final double OFFSET_MAX_TESLA = 2e-3;

  private final BlockingQueue<ReceivedFrame> lines = new ArrayBlockingQueue<>(ROOM);
  private final GaugeCalibration calibration;
  private LiveReading reading;
  private Optional<Double> batchZero = Optional.empty();
  private Optional<Zeroing> zeroing = Optional.empty();
  private long zeroFromNs;
  private boolean zeroed;
  private String says = "";

  LiveGauge(GaugeCalibration calibration) {
    this.calibration = calibration;
    this.reading = LiveReading.start(calibration, 0);
  }

  /** The head, with each line left here too. */
  HeadLink tapped(HeadLink head) {
    return new Tapped(head, lines);
  }

  /** The same lines, left beside. Control thread only. */
  private record Tapped(HeadLink head, BlockingQueue<ReceivedFrame> beside) implements HeadLink {

    @Override
    public List<ReceivedFrame> take() {
      List<ReceivedFrame> taken = head.take();
      for (int i = 0; i < taken.size(); i++) {
        leave(taken.get(i));
      }
      return taken;
    }

    private void leave(ReceivedFrame line) {
      boolean room = beside.offer(line);
      if (!room && beside.poll() != null) {
        // Nobody looks: the oldest goes, and the newest is there when somebody does.
        room = beside.offer(line);
      }
    }

    @Override
    public LinkState state(long nowNs) {
      return head.state(nowNs);
    }

    @Override
    public void offer(HeadRequest request) {
      head.offer(request);
    }

    @Override
    public void stop() {
      head.stop();
    }

    @Override
    public void close() {
      head.close();
    }
  }

  /** What the gauge reads, by the zero of the batch where it has one. */
  synchronized LiveReading look(Optional<Double> zeroOfBatch) {
    if (zeroOfBatch.isPresent() && !zeroOfBatch.equals(batchZero)) {
      reading = reading.withZero(zeroOfBatch.get());
      zeroed = true;
      says = "";
    }
    batchZero = zeroOfBatch;
    for (ReceivedFrame line = lines.poll(); line != null; line = lines.poll()) {
      if (line.frame() instanceof HeadFrame.Status status) {
        take(status, line.receivedAtNs());
      }
    }
    judgeZero();
    return reading;
  }

  private void take(HeadFrame.Status status, long atNs) {
    Temperature gauge = Temperature.ofDegC(status.gaugeCentiDegC() * 1e-2);
    reading = reading.with(status.hallCounts(), gauge, atNs);
    // A line that came before may show the magnet being taken out.
    if (atNs - zeroFromNs >= 0) {
      zeroing = zeroing.map(taking -> taking.with(status.hallCounts(), atNs));
    }
  }

  synchronized boolean zeroed() {
    return zeroed;
  }

  /** What became of the newest zero; may be empty. */
  synchronized String says() {
    return says;
  }

  /**
   * Does what a person asks of it.
   *
   * @param seatEmpty whether a zero may be taken now
   */
  synchronized Bench.Answer act(Bench.GaugeAct act, boolean seatEmpty, long nowNs) {
    return switch (act) {
      case HOLD -> {
        reading = reading.holdOrRelease();
        yield Bench.Answer.yes(reading.held().isPresent() ? "held" : "let go");
      }
      case RESET -> {
        reading = reading.reset();
        yield Bench.Answer.yes("smallest and largest begin anew");
      }
      case ZERO -> zero(seatEmpty, nowNs);
    };
  }

  private Bench.Answer zero(boolean seatEmpty, long nowNs) {
    if (!seatEmpty) {
      return Bench.Answer.no("take the magnet out first: a zero is taken with the seat empty");
    }
    zeroFromNs = nowNs;
    zeroing = Optional.of(Zeroing.start(SettlingRule.zero(calibration), nowNs));
    says = "taking the zero: leave the seat empty and hands off";
    return Bench.Answer.yes(says);
  }

  private void judgeZero() {
    zeroing.ifPresent(
        taking ->
            taking
                .outcome()
                .match(
                    continues -> false,
                    taken -> zeroIs(taken.zero().counts()),
                    not -> noZero("no zero: " + not.why())));
  }

  private boolean zeroIs(double counts) {
    zeroing = Optional.empty();
    double offset = Math.abs(counts) / calibration.countsPerTesla();
    if (offset > OFFSET_MAX_TESLA) {
      return noZero(
          "no zero: the gauge reads "
              + new FluxDensity(offset).inGauss()
              + "; see that the seat is empty and no magnet, steel or phone lies near");
    }
    reading = reading.withZero(counts);
    zeroed = true;
    says = "the zero is taken";
    return true;
  }

  private boolean noZero(String why) {
    zeroing = Optional.empty();
    says = why;
    return false;
  }
}
