package lodestep.scan;

import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import lodestep.config.BankConfig;
import lodestep.config.Limits;
import lodestep.interlock.Builds;
import lodestep.interlock.HeadBuild;
import lodestep.interlock.InterlockSettings;
import lodestep.interlock.InterlockState;
import lodestep.port.Contacts;
import lodestep.port.EventDraft;
import lodestep.port.HeadLink;
import lodestep.port.InputLine;
import lodestep.port.Job;
import lodestep.port.JobStep;
import lodestep.port.Ledger;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerState;
import lodestep.port.Lines;
import lodestep.port.LinkState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.PlanAnswer;
import lodestep.port.PlanDesk;
import lodestep.port.PlanQuestion;
import lodestep.port.ReceivedFrame;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/**
 * Hand-written ports that write down what is asked of them, in order, around a rig in which all is
 * well. A test changes one thing.
 */
final class ScanBench {

  static final long MS = 1_000_000L;
  static final InterlockSettings SETTINGS =
      new InterlockSettings(
          Limits.standard(),
          new BankConfig(0.022, new Voltage(47), new Voltage(50), 100, 2000, 22),
          Temperature.ofDegC(70));

  /** What was asked of the ports, one word each, in order. */
  final List<String> log = new ArrayList<>();

  final List<LedgerEvent> events = new ArrayList<>();
  final List<HeadRequest> requests = new ArrayList<>();
  final List<View> views = new ArrayList<>();
  final List<HeadFrame> toSend = new ArrayList<>();
  final Set<InputLine> open = EnumSet.noneOf(InputLine.class);
  Function<View, JobStep> script = this::idle;
  Runnable onRead = () -> {};
  Runnable onDrive = () -> {};
  Outputs stuckHigh = Outputs.ALL_LOW;
  Outputs atPins = Outputs.ALL_LOW;
  Optional<PlanAnswer> answer = Optional.empty();
  Optional<PlanQuestion> asked = Optional.empty();
  int bankMilliVolts;
  int bootId = 3;
  long linesLateMs;
  boolean saysHello = true;
  long magnet;
  boolean rests;
  long nowNs;
  private int sequence;
  private int saidHelloIn = -1;

  final Job job =
      new Job() {
        @Override
        public JobStep step(View view) {
          log.add("job");
          views.add(view);
          return script.apply(view);
        }

        @Override
        public long magnet() {
          return magnet;
        }

        @Override
        public boolean rests() {
          return rests;
        }
      };

  final ScanCycle cycle =
      new ScanCycle(
          new ScanPorts(
              new RecordingLines(),
              new RecordingHead(),
              new RecordingLedger(),
              new RecordingDesk(),
              () -> Instant.EPOCH.plusNanos(nowNs)),
          SETTINGS,
          InterlockState.powerOn(),
          job);

  /** A rig that has run for a while: lid seen open and closed again, permit held. */
  static ScanBench ready() {
    ScanBench bench = new ScanBench();
    bench.open.add(InputLine.LID_A);
    bench.open.add(InputLine.LID_B);
    bench.run(10);
    bench.open.clear();
    bench.run(30);
    bench.forget();
    return bench;
  }

  /** The same with the job holding the bank at 20 V, changeover relay in reverse. */
  static ScanBench holding() {
    ScanBench bench = ready();
    bench.script = view -> bench.want(OutputLine.COIL_REVERSE);
    bench.run(20);
    bench.script = view -> bench.want(OutputLine.COIL_REVERSE, OutputLine.BANK_HOLD);
    bench.run(10);
    bench.script =
        view -> bench.want(OutputLine.COIL_REVERSE, OutputLine.BANK_HOLD, OutputLine.BANK_FILL);
    bench.run(8);
    bench.bankMilliVolts = 20_000;
    bench.run(2);
    bench.script = view -> bench.want(OutputLine.COIL_REVERSE, OutputLine.BANK_HOLD);
    bench.run(20);
    bench.forget();
    return bench;
  }

  void forget() {
    log.clear();
    events.clear();
    requests.clear();
    views.clear();
  }

  ScanBench run(int scans) {
    for (int i = 0; i < scans; i++) {
      runAfter(5 * MS);
    }
    return this;
  }

  ScanBench runAfter(long spanNs) {
    nowNs += spanNs;
    cycle.run(nowNs);
    return this;
  }

  JobStep idle(View view) {
    return JobStep.stay(job, Outputs.ALL_LOW, true);
  }

  JobStep want(OutputLine... lines) {
    return JobStep.stay(job, Outputs.high(lines), true);
  }

  List<HeadRequest.Heartbeat> heartbeats() {
    return requests.stream()
        .filter(HeadRequest.Heartbeat.class::isInstance)
        .map(HeadRequest.Heartbeat.class::cast)
        .toList();
  }

  private Contacts contacts() {
    Set<InputLine> closed = EnumSet.of(InputLine.LID_A, InputLine.LID_B);
    closed.add(InputLine.STOP_LOOP);
    closed.add(InputLine.ARM_KEY);
    addIf(closed, InputLine.FILL_CONTACT, !atPins.isHigh(OutputLine.BANK_FILL));
    addIf(closed, InputLine.BLEED_CONTACT, !atPins.isHigh(OutputLine.BANK_HOLD));
    addIf(closed, InputLine.REVERSE_CONTACT, atPins.isHigh(OutputLine.COIL_REVERSE));
    addIf(closed, InputLine.FULL_CONTACT, atPins.isHigh(OutputLine.COIL_FULL));
    closed.removeAll(open);
    return Contacts.of(closed, nowNs);
  }

  private static void addIf(Set<InputLine> closed, InputLine line, boolean isClosed) {
    if (isClosed) {
      closed.add(line);
    }
  }

  private HeadFrame.Status status() {
    sequence++;
    Contacts contacts = contacts();
    int flags = HeadFlag.PERMIT.bit();
    boolean broken = open.stream().anyMatch(line -> line.ordinal() < 3);
    flags |= broken ? 0 : HeadFlag.CHAIN.bit();
    for (InputLine line : InputLine.values()) {
      boolean seen = line.ordinal() < 3 || line.ordinal() > 5;
      flags |= seen && contacts.closed(line) ? HeadFlag.valueOf(line.name()).bit() : 0;
    }
    return new HeadFrame.Status(
        sequence,
        bootId,
        1_000 + nowNs / MS - linesLateMs,
        sequence % 256,
        50,
        2_200,
        2_500 + sequence % 5,
        bankMilliVolts,
        0,
        0,
        flags);
  }

  private final class RecordingLines implements Lines {
    @Override
    public Contacts read(long at) {
      log.add("read");
      onRead.run();
      return contacts();
    }

    @Override
    public Outputs drive(Outputs outputs) {
      log.add("drive " + outputs.lines());
      onDrive.run();
      atPins = new Outputs(outputs.highBits() | stuckHigh.highBits());
      return atPins;
    }

    @Override
    public void close() {
      log.add("close lines");
    }
  }

  private final class RecordingHead implements HeadLink {
    @Override
    public List<ReceivedFrame> take() {
      log.add("take");
      List<ReceivedFrame> frames = new ArrayList<>();
      if (saysHello && saidHelloIn != bootId) {
        saidHelloIn = bootId;
        HeadFrame.Hello hello =
            new HeadFrame.Hello(bootId, "H-3", HeadFrame.PROTOCOL_VERSION, "0.1", true);
        frames.add(new ReceivedFrame(hello, nowNs));
        HeadFrame.Build build = Builds.inRun(bootId, HeadBuild.of(SETTINGS).wanted());
        frames.add(new ReceivedFrame(build, nowNs));
      }
      frames.add(new ReceivedFrame(status(), nowNs));
      toSend.forEach(frame -> frames.add(new ReceivedFrame(frame, nowNs)));
      toSend.clear();
      return frames;
    }

    @Override
    public LinkState state(long at) {
      return new LinkState(true, 0, "");
    }

    @Override
    public void offer(HeadRequest request) {
      log.add(request instanceof HeadRequest.Heartbeat ? "heartbeat" : "request");
      requests.add(request);
    }

    @Override
    public void stop() {
      log.add("stop");
    }

    @Override
    public void close() {
      log.add("close head");
    }
  }

  private final class RecordingLedger implements Ledger {
    private long appended;

    @Override
    public long nextNumber() {
      return appended + 1;
    }

    @Override
    public void append(EventDraft draft) {
      log.add("append " + draft.event().getClass().getSimpleName());
      events.add(draft.event());
      appended++;
    }

    @Override
    public LedgerState state() {
      return new LedgerState(appended, Optional.empty());
    }

    @Override
    public void close() {
      log.add("close ledger");
    }
  }

  private final class RecordingDesk implements PlanDesk {
    @Override
    public void ask(PlanQuestion question) {
      log.add("ask");
      asked = Optional.of(question);
    }

    @Override
    public Optional<PlanAnswer> take(long at) {
      Optional<PlanAnswer> taken = answer;
      answer = Optional.empty();
      return taken;
    }

    @Override
    public void close() {
      log.add("close desk");
    }
  }
}
