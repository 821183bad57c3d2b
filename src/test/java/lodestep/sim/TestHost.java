package lodestep.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.function.BooleanSupplier;
import lodestep.config.ReferenceRig;
import lodestep.config.RigConfig;
import lodestep.port.InputLine;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;

/** A host with no interlocks at all, for tests of the rig: it drives what a test says. */
final class TestHost {

  final VirtualRig rig;
  final VirtualRunner runner;
  final List<ReceivedFrame> frames = new ArrayList<>();
  private final List<HeadRequest> toSend = new ArrayList<>();
  Outputs outputs = Outputs.ALL_LOW;
  boolean heartbeats = true;
  boolean permit;
  private int beats;

  TestHost(FaultPlan plan) {
    this(11L, plan);
  }

  TestHost(long seed, FaultPlan plan) {
    this(ReferenceRig.virtual(), seed, plan);
  }

  TestHost(RigConfig config, long seed, FaultPlan plan) {
    rig = new VirtualRig(config, ReferenceRig.ROD_NEST, seed, plan);
    runner = new VirtualRunner(rig, 5_000_000L).eachScan(this::scan);
  }

  /** Virtual time of a fault, in milliseconds after the start. */
  static long atMs(long ms) {
    return VirtualRig.START_NS + ms * 1_000_000L;
  }

  private void scan(long nowNs) {
    frames.addAll(rig.headLink().take());
    rig.lines().drive(outputs);
    if (heartbeats) {
      rig.headLink().offer(new HeadRequest.Heartbeat(beats++ & 0xffff, permit));
    }
    toSend.forEach(rig.headLink()::offer);
    toSend.clear();
  }

  void run(int ms) {
    runner.runFor(ms * 1_000_000L);
  }

  void await(BooleanSupplier condition, int limitMs) {
    assertThat(runner.runUntil(condition, limitMs * 1_000_000L)).as("in time").isTrue();
  }

  void send(HeadRequest request) {
    toSend.add(request);
  }

  void raise(OutputLine line) {
    outputs = outputs.and(line);
  }

  void lower(OutputLine line) {
    outputs = outputs.with(line, false);
  }

  HeadFrame.Status status() {
    for (int i = frames.size() - 1; i >= 0; i--) {
      if (frames.get(i).frame() instanceof HeadFrame.Status status) {
        return status;
      }
    }
    throw new AssertionError("no status line yet");
  }

  boolean has(HeadFlag flag) {
    return status().has(flag);
  }

  boolean closed(InputLine line) {
    return rig.lines().read(rig.clock().nowNs()).closed(line);
  }

  <F extends HeadFrame> List<F> all(Class<F> kind) {
    return frames.stream()
        .map(ReceivedFrame::frame)
        .filter(kind::isInstance)
        .map(kind::cast)
        .toList();
  }

  /** The newest frame of this kind. */
  <F extends HeadFrame> F last(Class<F> kind) {
    List<F> all = all(kind);
    assertThat(all).as(kind.getSimpleName()).isNotEmpty();
    return all.get(all.size() - 1);
  }

  double bankVolts() {
    return rig.plant().bankVoltage().volts();
  }

  /** Lid closed, permit asked for and held. */
  TestHost permitted() {
    rig.controls().lid(true);
    run(100);
    permit = true;
    await(() -> has(HeadFlag.PERMIT), 500);
    run(20);
    return this;
  }

  /** Permitted, with the bank filled to this and the fill relay released again. */
  TestHost filledTo(double volts) {
    permitted();
    raise(OutputLine.BANK_HOLD);
    raise(OutputLine.BANK_FILL);
    await(() -> bankVolts() >= volts, 20_000);
    lower(OutputLine.BANK_FILL);
    run(100);
    return this;
  }

  /** A token for this intent. */
  int token(long intent) {
    send(new HeadRequest.AskToken(intent));
    run(30);
    return last(HeadFrame.TokenGrant.class).token();
  }

  /** Asks for the window and waits until it is open. */
  void openWindow(int token, long intent) {
    send(new HeadRequest.OpenWindow(token, intent, 60_000));
    await(() -> has(HeadFlag.WINDOW), 100);
  }

  /** One whole pulse of this gate time; returns the report. */
  HeadFrame.PulseReport pulse(long intent, int gateMs) {
    openWindow(token(intent), intent);
    raise(OutputLine.COIL_FIRE);
    run(gateMs);
    lower(OutputLine.COIL_FIRE);
    run(60);
    return last(HeadFrame.PulseReport.class);
  }
}
