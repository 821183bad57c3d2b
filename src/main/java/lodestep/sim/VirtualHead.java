package lodestep.sim;

import java.util.Comparator;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.function.Consumer;
import lodestep.config.CoilConfig;
import lodestep.config.HeadConfig;
import lodestep.config.JigConfig;
import lodestep.config.RigConfig;
import lodestep.port.InputLine;
import lodestep.protocol.HeadFlag;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.HostLine;
import lodestep.quantity.Temperature;

/**
 * The head at the nest: a state machine of one millisecond that does what the real head's program
 * does. It sends a state line every 10 ms, holds the permit relay ({@link HeadPermit}) and owns the
 * fire window ({@link HeadWindow}). Every start has a new boot id, and forgets tokens and ring.
 *
 * <p>Confined to its rig's thread.
 */
public final class VirtualHead {

  /** What the virtual head calls itself where rig.toml names no serial number. */
  public static final String SERIAL_NUMBER = "VIRTUAL-HEAD";

  private static final String FIRMWARE_VERSION = "1.0-virtual";
  private static final int STATUS_PERIOD_MS = 10;

  /** From reset to the first line: watchdog self-test and settling of the converters. */
  static final int BOOT_MS = 300;

  /** The watchdog resets a head whose program has hung this long. */
  static final int WATCHDOG_MS = 250;

  /** Of a head alone, whose thermometer lies in the room. */
  private static final double NO_COIL_DEG_C = 70;

  private static final int BOOT_IDS = 65_536;

  private static final int LID_A = FaultState.bit(InputLine.LID_A);
  private static final int LID_B = FaultState.bit(InputLine.LID_B);
  private static final int STOP_LOOP = FaultState.bit(InputLine.STOP_LOOP);
  private static final int CLOSED_FOR_PERMIT = LID_A | LID_B | STOP_LOOP;
  private static final int FILL_CONTACT = FaultState.bit(InputLine.FILL_CONTACT);
  private static final int BLEED_CONTACT = FaultState.bit(InputLine.BLEED_CONTACT);
  private static final int REVERSE_CONTACT = FaultState.bit(InputLine.REVERSE_CONTACT);
  private static final int FULL_CONTACT = FaultState.bit(InputLine.FULL_CONTACT);

  private final Plant plant;
  private final FaultState faults;
  private final HeadSensors sensors;
  private final SplittableRandom random;
  private final Consumer<HeadFrame> line;
  private final String serialNumber;
  private final HeadFrame.Build build;

  private HeadPermit permit;
  private HeadWindow window;
  private HeadMotion motion;
  private int bootId;
  private int sequence;
  private long clockMs;
  private int hungMs;
  private boolean running;

  /** In any millisecond since the last status line. */
  private boolean chainOpened;

  /**
   * A head that has just been switched on and says so at its first step.
   *
   * @param line takes each frame in the millisecond in which it is sent
   */
  VirtualHead(Plant plant, RigConfig config, Plant.Drawn drawn, Consumer<HeadFrame> line) {
    this.plant = plant;
    this.faults = drawn.faults();
    this.random = drawn.random();
    this.sensors =
        new HeadSensors(plant, config.gauge(), new Plant.Drawn(random.split(), drawn.faults()));
    this.line = line;
    this.serialNumber = serialNumber(config.head());
    this.bootId = random.nextInt(BOOT_IDS);
    this.permit = new HeadPermit();
    this.window = newWindow();
    this.build = build(config);
    this.motion = newMotion();
  }

  private static String serialNumber(HeadConfig head) {
    return head instanceof HeadConfig.SerialHead serial && !serial.serialNumber().isEmpty()
        ? serial.serialNumber()
        : SERIAL_NUMBER;
  }

  /**
   * What the figures of rig.toml are in a head's own units. The coil that bears least counts, since
   * the head has one thermometer and does not know which coil it is at; without a coil it sits at
   * the jig's motor.
   */
  private static HeadFrame.Build build(RigConfig config) {
    Optional<JigConfig.Screw> screw = config.jig().map(JigConfig::screw);
    double degC =
        config.coils().stream()
            .map(CoilConfig::temperatureMax)
            .min(Comparator.naturalOrder())
            .or(() -> config.jig().map(JigConfig::temperatureMax))
            .map(Temperature::degC)
            .orElse(NO_COIL_DEG_C);
    return new HeadFrame.Build(
        0,
        screw.map(it -> (int) Math.round(it.pitch().metres() * 1e9)).orElse(0),
        screw.map(JigConfig.Screw::stepsPerTurn).orElse(0),
        screw.map(it -> (int) it.travel().microMetres()).orElse(0),
        screw.map(it -> (int) Math.round(it.millimetresPerSecond() * 1e3)).orElse(0),
        (int) HeadWindow.WINDOW_MAX_MS,
        (int) Math.round(HeadWindow.BANK_CAP_MILLI_VOLTS),
        (int) Math.round(degC * 100));
  }

  private HeadMotion newMotion() {
    return new HeadMotion(
        build.pitchNanoMetres() == 0
            ? Optional.empty()
            : Optional.of(
                new HeadMotion.Build(
                    build.pitchNanoMetres(),
                    build.stepsPerTurn(),
                    build.travelMicroMetres(),
                    build.microMetresPerSecond())));
  }

  private HeadMotion.Inputs forMotion() {
    return new HeadMotion.Inputs(
        permit.held(),
        plant.jigLineHigh(),
        plant.carriage().map(Carriage::homeClosed).orElse(false),
        plant.carriage().map(Carriage::farClosed).orElse(false));
  }

  private HeadWindow newWindow() {
    return new HeadWindow(plant, sensors, permit, bootId, random.nextInt(1 << 20));
  }

  private void restart() {
    bootId = (bootId + 1 + random.nextInt(BOOT_IDS - 1)) % BOOT_IDS;
    permit = new HeadPermit();
    window = newWindow();
    motion = newMotion();
    sequence = 0;
    clockMs = -BOOT_MS;
    hungMs = 0;
    chainOpened = false;
    running = false;
    plant.feedPermit(false);
    plant.openWindow(false);
  }

  /** One millisecond. */
  void step(long nowNs) {
    if (faults.headDown || faults.headHung) {
      failing();
      return;
    }
    long lastMs = clockMs;
    // Its clock is a timer of its own and has run on while the program hung.
    clockMs += 1 + hungMs;
    hungMs = 0;
    if (clockMs < 0) {
      return;
    }
    if (!running) {
      running = true;
      sayHello();
    }
    chainOpened |= !plant.chainClosed();
    int contacts = plant.contactBits() & ~faults.wiresOpenAtHead;
    boolean closed = plant.chainClosed() && (contacts & CLOSED_FOR_PERMIT) == CLOSED_FOR_PERMIT;
    permit.step(clockMs, closed, measuredGood());
    plant.feedPermit(permit.held());
    window.step(clockMs, contacts).ifPresent(this::send);
    int steps = motion.step(forMotion());
    for (int made = 0; made < Math.abs(steps); made++) {
      plant.stepJig(steps > 0);
    }
    if (Math.floorDiv(clockMs, STATUS_PERIOD_MS) != Math.floorDiv(lastMs, STATUS_PERIOD_MS)) {
      sensors.convert(nowNs, STATUS_PERIOD_MS);
      send(status(contacts));
      chainOpened = false;
    }
  }

  private void failing() {
    if (faults.headDown) {
      restart();
      return;
    }
    hungMs++;
    if (hungMs == WATCHDOG_MS) {
      restart();
    }
  }

  private boolean measuredGood() {
    int coil = sensors.coilCentiDegC();
    return coil > HeadSensors.COIL_OPEN_CENTI_DEG_C
        && coil < build.coilCentiDegCMax()
        && sensors.bankMilliVolts() <= HeadWindow.BANK_CAP_MILLI_VOLTS;
  }

  /** A line from the host has come. */
  void receive(HostLine line) {
    if (!running || faults.headHung) {
      return;
    }
    if (line.session() != HostLine.NO_SESSION && !permit.heeds(clockMs, line.session())) {
      letGo();
      return;
    }
    HeadRequest request = line.request();
    if (request instanceof HeadRequest.Heartbeat heartbeat) {
      permit.heartbeat(clockMs, line.session(), heartbeat.sequence(), heartbeat.permit());
    } else if (request instanceof HeadRequest.AskHello) {
      sayHello();
    } else if (request instanceof HeadRequest.AskToken askToken) {
      send(window.askToken(clockMs, askToken));
    } else if (request instanceof HeadRequest.OpenWindow openWindow) {
      int contacts = plant.contactBits() & ~faults.wiresOpenAtHead;
      window.openWindow(clockMs, contacts, openWindow).ifPresent(this::send);
    } else if (request instanceof HeadRequest.AskPulse askPulse) {
      send(window.askPulse(askPulse));
    } else if (request instanceof HeadRequest.MoveTo moveTo) {
      motion
          .moveTo(moveTo.positionMicroMetres(), forMotion())
          .ifPresent(why -> send(new HeadFrame.Refused(bootId, why, 0)));
    }
  }

  /** The stop byte has come: permit and window go, and the head latches. */
  void receiveStop() {
    if (running && !faults.headHung) {
      permit.latch();
      letGo();
    }
  }

  private void letGo() {
    motion.stop();
    plant.feedPermit(false);
  }

  private void send(HeadFrame frame) {
    if (!faults.headSilent) {
      line.accept(frame);
    }
  }

  private void sayHello() {
    send(
        new HeadFrame.Hello(
            bootId, serialNumber, HeadFrame.PROTOCOL_VERSION, FIRMWARE_VERSION, true));
    send(
        new HeadFrame.Build(
            bootId,
            build.pitchNanoMetres(),
            build.stepsPerTurn(),
            build.travelMicroMetres(),
            build.microMetresPerSecond(),
            build.windowMillis(),
            build.bankCapMilliVolts(),
            build.coilCentiDegCMax()));
  }

  private HeadFrame status(int contacts) {
    sequence = (sequence + 1) & 0xffff;
    return new HeadFrame.Status(
        sequence,
        bootId,
        clockMs,
        sensors.sampleCounter(),
        sensors.hallCounts(),
        sensors.gaugeCentiDegC(),
        sensors.coilCentiDegC(),
        sensors.bankMilliVoltsNoisy(),
        sensors.coilMilliAmps(),
        motion.positionMicroMetres(),
        flags(contacts));
  }

  private int flags(int contacts) {
    int flags = raised(HeadFlag.PERMIT, permit.held());
    flags |= raised(HeadFlag.WINDOW, window.open());
    flags |= raised(HeadFlag.CHAIN, !chainOpened);
    flags |= raised(HeadFlag.LID_A, (contacts & LID_A) != 0);
    flags |= raised(HeadFlag.LID_B, (contacts & LID_B) != 0);
    flags |= raised(HeadFlag.STOP_LOOP, (contacts & STOP_LOOP) != 0);
    flags |= raised(HeadFlag.FILL_CONTACT, (contacts & FILL_CONTACT) != 0);
    flags |= raised(HeadFlag.BLEED_CONTACT, (contacts & BLEED_CONTACT) != 0);
    flags |= raised(HeadFlag.REVERSE_CONTACT, (contacts & REVERSE_CONTACT) != 0);
    flags |= raised(HeadFlag.FULL_CONTACT, (contacts & FULL_CONTACT) != 0);
    flags |= raised(HeadFlag.JIG_HOME, plant.carriage().map(Carriage::homeClosed).orElse(false));
    flags |= raised(HeadFlag.JIG_FAR, plant.carriage().map(Carriage::farClosed).orElse(false));
    flags |= raised(HeadFlag.HOMED, motion.homed());
    flags |= raised(HeadFlag.STRANGER, permit.strangerSince(clockMs));
    return flags | raised(HeadFlag.LATCHED, permit.latched());
  }

  private static int raised(HeadFlag flag, boolean high) {
    return high ? flag.bit() : 0;
  }
}
