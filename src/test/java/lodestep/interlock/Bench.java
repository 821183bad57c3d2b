package lodestep.interlock;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import lodestep.config.BankConfig;
import lodestep.config.CoilConfig;
import lodestep.config.JigConfig;
import lodestep.config.Limits;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.LedgerState;
import lodestep.port.LinkState;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;
import lodestep.port.ReceivedFrame;
import lodestep.port.Trip;
import lodestep.port.TripCause;
import lodestep.port.View;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.quantity.FluxDensity;
import lodestep.quantity.Length;
import lodestep.quantity.Temperature;
import lodestep.quantity.Voltage;

/**
 * A rig that does as it is told, so that a test changes one thing only. Relays follow what is
 * driven, the head sees what the host sees, the bank fills and bleeds as an RC circuit; every scan
 * a new time, every other scan a new status line.
 */
final class Bench {

  static final long MS = 1_000_000L;
  static final long SCAN_NS = 5 * MS;
  static final BankConfig BANK =
      new BankConfig(0.022, new Voltage(47), new Voltage(50), 100, 2000, 22);
  static final InterlockSettings SETTINGS =
      new InterlockSettings(Limits.standard(), BANK, Temperature.ofDegC(70));

  private final InterlockLogic logic;
  private final boolean coil;
  private final Map<InputLine, Boolean> contactsHeld = new EnumMap<>(InputLine.class);
  private final Map<HeadFlag, Boolean> flagsHeld = new EnumMap<>(HeadFlag.class);
  private final List<HeadFrame> extra = new ArrayList<>();

  InterlockState state = InterlockState.powerOn();
  InterlockStep last =
      new InterlockStep(state, Permissive.of(state.row()), Optional.empty(), Optional.empty());
  Optional<Trip> firstTrip = Optional.empty();
  List<Trip> resets = new ArrayList<>();
  Optional<View.Status> status = Optional.empty();
  long nowNs = 1_000_000 * MS;
  long lateNs;
  long contactsAgeNs;
  int bootId = 17;
  int sequence;
  int sampleStep = 3;
  int coilCentiDegC = 2_500;
  int gaugeCentiDegC = 2_200;
  double clockGainMs;
  int coilDither = 7;
  int coilMilliAmps;
  double bankVolts;
  int positionMicroMetres = 2_000;
  boolean headSpeaks = true;
  boolean saysHello = true;
  boolean saysBuild = true;
  HeadFrame.Build build;
  String serialNumber = "H-7";
  int protocolVersion = HeadFrame.PROTOCOL_VERSION;
  boolean watchdogProven = true;
  boolean linkOpen = true;
  long badLines;
  boolean stopAsked;
  boolean programFailed;
  Optional<String> ledgerFault = Optional.empty();
  Outputs driven = Outputs.ALL_LOW;
  Optional<Outputs> readBack = Optional.empty();
  Optional<DoubleUnaryOperator> bankRule = Optional.empty();
  private boolean lineDue;
  private int saidHelloIn = -1;

  /** A rig with bank and coil, and a jig. */
  static final InterlockSettings JIG = withJig(BANK);

  /** A rig with a jig and no bank. */
  static final InterlockSettings JIG_ONLY = withJig(BankConfig.NONE);

  private static InterlockSettings withJig(BankConfig bank) {
    JigConfig jig =
        new JigConfig(
            new JigConfig.Screw(Length.ofMm(2), 1600, Length.ofMm(78), Length.ofMm(2), 8),
            new JigConfig.Opposing(Length.ofMm(20), Length.ofMm(12), new FluxDensity(1.28), false),
            Length.ofMm(90),
            Length.ofMm(3),
            new Length(6),
            Temperature.ofDegC(60));
    return new InterlockSettings(
        Limits.standard(), bank, Optional.empty(), Temperature.ofDegC(70), Optional.of(jig), "");
  }

  Bench() {
    this("");
  }

  Bench(InterlockSettings settings) {
    logic = new InterlockLogic(settings);
    build = HeadBuild.of(settings).wanted();
    coil = !settings.bank().equals(BankConfig.NONE) || settings.switched().isPresent();
  }

  /** A rig whose rig.toml names this head; empty accepts any. */
  Bench(String headSerialNumber) {
    this(
        new InterlockSettings(
            SETTINGS.limits(), BANK, SETTINGS.coilTemperatureMax(), headSerialNumber));
  }

  /** A rig with everything in order, its bank proven if it has one. */
  static Bench ready() {
    return ready(SETTINGS);
  }

  static Bench ready(InterlockSettings settings) {
    Bench bench = new Bench(settings).madeReady();
    return bench.state.row().met(Condition.BANK_PROVEN) ? bench : bench.proven();
  }

  /** Lid seen open and closed again, key on, permit held. */
  Bench madeReady() {
    set(InputLine.LID_A, false).set(InputLine.LID_B, false).run(20);
    free(InputLine.LID_A).free(InputLine.LID_B);
    return set(HeadFlag.PERMIT, true).run(300);
  }

  /** The bank proven as the sequence does it: filled a little, held, bled; then empty. */
  Bench proven() {
    fill(6, OutputLine.COIL_FULL).run(150).drive(OutputLine.COIL_FULL).run(500);
    bankVolts = 0;
    return drive().run(300);
  }

  /** Settings of a rig with a bank, used up to 70 °C, and these coils. */
  static InterlockSettings withCoils(CoilConfig... coils) {
    return new InterlockSettings(
        SETTINGS.limits(),
        BANK,
        Optional.empty(),
        Temperature.ofDegC(70),
        Optional.empty(),
        "",
        List.of(coils));
  }

  /** A rig whose bank is held at this voltage. */
  static Bench holding(double volts) {
    return ready().fill(volts).run(300);
  }

  /** Fills to this voltage in no time; a bank that rose any other way would be a trip. */
  Bench fill(double volts, OutputLine... relays) {
    Outputs holding = Outputs.high(relays).and(OutputLine.BANK_HOLD);
    driven = holding.and(OutputLine.BANK_FILL);
    run(50);
    bankVolts = volts;
    run(10);
    bankVolts = volts;
    driven = holding;
    return scan();
  }

  /** Lets time pass without scans, as if they had been punctual; a new line comes next. */
  Bench pass(long spanNs) {
    nowNs += spanNs;
    lineDue = false;
    return this;
  }

  Bench drive(OutputLine... lines) {
    driven = Outputs.high(lines);
    return this;
  }

  /** Holds a contact at a level, whatever the rig does. */
  Bench set(InputLine line, boolean closed) {
    contactsHeld.put(line, closed);
    return this;
  }

  Bench free(InputLine line) {
    contactsHeld.remove(line);
    return this;
  }

  /** Holds what the head says at a level. */
  Bench set(HeadFlag flag, boolean up) {
    flagsHeld.put(flag, up);
    return this;
  }

  Bench free(HeadFlag flag) {
    flagsHeld.remove(flag);
    return this;
  }

  /** Hands a frame over in the next scan. */
  Bench send(HeadFrame frame) {
    extra.add(frame);
    return this;
  }

  /** Scans for so many milliseconds, five each. */
  Bench run(long milliseconds) {
    for (long i = 0; i < milliseconds / 5; i++) {
      scan();
    }
    return this;
  }

  /** Scans until a status line has just come. */
  Bench scanToLine() {
    do {
      scan();
    } while (!lineDue);
    return this;
  }

  Bench scan() {
    nowNs += SCAN_NS;
    bankVolts = bankRule.orElse(this::rcCircuit).applyAsDouble(bankVolts);
    Contacts contacts = contacts();
    List<ReceivedFrame> frames = new ArrayList<>();
    extra.forEach(frame -> frames.add(new ReceivedFrame(frame, nowNs)));
    extra.clear();
    lineDue = !lineDue;
    if (lineDue && headSpeaks) {
      sayHello(frames);
      HeadFrame.Status line = line(contacts);
      frames.add(new ReceivedFrame(line, nowNs));
      status = Optional.of(new View.Status(line, nowNs));
    }
    lineDue = lineDue && headSpeaks;
    last = logic.step(state, inputs(contacts, frames));
    state = last.next();
    firstTrip = firstTrip.or(last::tripped);
    last.reset().ifPresent(resets::add);
    return this;
  }

  /** As a head does when it starts, and when it is asked after the line was lost. */
  private void sayHello(List<ReceivedFrame> frames) {
    build = Builds.inRun(bootId, build);
    saidHelloIn = linkOpen ? saidHelloIn : -1;
    if (saysHello && linkOpen && saidHelloIn != bootId) {
      saidHelloIn = bootId;
      frames.add(new ReceivedFrame(hello(), nowNs));
      if (saysBuild) {
        frames.add(new ReceivedFrame(build, nowNs));
      }
    }
  }

  HeadFrame.Hello hello() {
    return new HeadFrame.Hello(bootId, serialNumber, protocolVersion, "0.1", watchdogProven);
  }

  Optional<TripCause> tripped() {
    return firstTrip.map(Trip::cause);
  }

  boolean allows(OutputLine line) {
    return last.permission().allowed().isHigh(line);
  }

  private InterlockInputs inputs(Contacts contacts, List<ReceivedFrame> frames) {
    return new InterlockInputs(
        nowNs,
        lateNs,
        contacts,
        frames,
        status,
        new LinkState(linkOpen, badLines, "the cable is out; put it in"),
        driven,
        readBack.orElse(driven),
        new LedgerState(0, ledgerFault),
        stopAsked,
        programFailed);
  }

  private double rcCircuit(double volts) {
    double bleedSeconds = BANK.bleedOhms() * BANK.capacitanceFarads();
    double seconds = SCAN_NS * 1e-9;
    if (!driven.isHigh(OutputLine.BANK_HOLD)) {
      return volts * Math.exp(-seconds / bleedSeconds);
    }
    if (!driven.isHigh(OutputLine.BANK_FILL)) {
      return volts;
    }
    double end = 50 * 2000.0 / 2100.0;
    double fillSeconds = 100 * 2000.0 / 2100.0 * BANK.capacitanceFarads();
    return end + (volts - end) * Math.exp(-seconds / fillSeconds);
  }

  private Contacts contacts() {
    List<InputLine> closed = new ArrayList<>();
    for (InputLine line : InputLine.values()) {
      if (contactsHeld.getOrDefault(line, atRest(line))) {
        closed.add(line);
      }
    }
    return Contacts.of(closed, nowNs - contactsAgeNs);
  }

  private boolean atRest(InputLine line) {
    return switch (line) {
      case LID_A, LID_B, STOP_LOOP, ARM_KEY -> true;
      case START_PEDAL, WORK_SEAT -> false;
      case FILL_CONTACT -> coil && !driven.isHigh(OutputLine.BANK_FILL);
      case BLEED_CONTACT ->
          coil && !driven.isHigh(OutputLine.BANK_HOLD) && !driven.isHigh(OutputLine.COIL_ON);
      case REVERSE_CONTACT -> driven.isHigh(OutputLine.COIL_REVERSE);
      case FULL_CONTACT -> driven.isHigh(OutputLine.COIL_FULL);
    };
  }

  private HeadFrame.Status line(Contacts contacts) {
    sequence++;
    int flags = 0;
    for (HeadFlag flag : HeadFlag.values()) {
      flags |= flagsHeld.getOrDefault(flag, seenByHead(flag, contacts)) ? flag.bit() : 0;
    }
    return new HeadFrame.Status(
        sequence,
        bootId,
        nowNs / MS + Math.round(clockGainMs),
        sequence * sampleStep % 256,
        120,
        gaugeCentiDegC,
        coilCentiDegC + (coilDither == 0 ? 0 : sequence % coilDither),
        (int) Math.round(bankVolts * 1e3),
        coilMilliAmps,
        positionMicroMetres,
        flags);
  }

  private static boolean seenByHead(HeadFlag flag, Contacts contacts) {
    return switch (flag) {
      case PERMIT, WINDOW, LATCHED, STRANGER -> false;
      case JIG_HOME, JIG_FAR, HOMED -> true;
      case CHAIN ->
          contacts.closed(InputLine.LID_A)
              && contacts.closed(InputLine.LID_B)
              && contacts.closed(InputLine.STOP_LOOP);
      case LID_A -> contacts.closed(InputLine.LID_A);
      case LID_B -> contacts.closed(InputLine.LID_B);
      case STOP_LOOP -> contacts.closed(InputLine.STOP_LOOP);
      case FILL_CONTACT -> contacts.closed(InputLine.FILL_CONTACT);
      case BLEED_CONTACT -> contacts.closed(InputLine.BLEED_CONTACT);
      case REVERSE_CONTACT -> contacts.closed(InputLine.REVERSE_CONTACT);
      case FULL_CONTACT -> contacts.closed(InputLine.FULL_CONTACT);
    };
  }
}
