package lodestep.app;

import java.util.Optional;
import lodestep.config.HeadConfig;
import lodestep.port.HeadLink;
import lodestep.port.LinkState;
import lodestep.port.ReceivedFrame;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadRequest;

/** Sees at the start that the head is there, speaks, and is the one this rig was described with. */
final class HeadStart {

  /** A head that the opening of its port has reset needs two seconds to speak. */
  static final long WAIT_NS = 5_000_000_000L;

  private static final long LOOK_NS = 10_000_000L;
  private static final long ASK_AGAIN_NS = 1_000_000_000L;

  private HeadStart() {}

  /**
   * Waits for the head's greeting, {@value #WAIT_NS} ns at most; frames that come before it are
   * dropped.
   *
   * @return why the head cannot be used: what, where, what to do; empty when it can
   */
  static Optional<String> objection(HeadLink link, HeadConfig.SerialHead wanted, Pace pace) {
    long beganNs = pace.nowNs();
    String opening = link.state(beganNs).words();
    long nowNs = beganNs;
    long askAtNs = beganNs + ASK_AGAIN_NS;
    while (nowNs - beganNs < WAIT_NS) {
      for (ReceivedFrame received : link.take()) {
        if (received.frame() instanceof HeadFrame.Hello hello) {
          return objection(hello, wanted);
        }
      }
      LinkState state = link.state(nowNs);
      if (!state.open() && !state.words().equals(opening)) {
        return Optional.of(state.words());
      }
      if (nowNs - askAtNs >= 0) {
        link.offer(new HeadRequest.AskHello());
        askAtNs = nowNs + ASK_AGAIN_NS;
      }
      pace.until(nowNs + LOOK_NS);
      nowNs = pace.nowNs();
    }
    return Optional.of(silence(link.state(nowNs), wanted));
  }

  private static String silence(LinkState state, HeadConfig.SerialHead wanted) {
    return state.open()
        ? "no head answers on port "
            + wanted.port()
            + " ("
            + state.badLines()
            + " lines were not understood); see that the head has its supply and that the port in"
            + " rig.toml is the head's"
        : state.words();
  }

  /** Why the head that has greeted cannot be used. */
  static Optional<String> objection(HeadFrame.Hello hello, HeadConfig.SerialHead wanted) {
    String head = "the head on port " + wanted.port();
    if (hello.protocolVersion() != HeadFrame.PROTOCOL_VERSION) {
      return Optional.of(
          head
              + " speaks protocol version "
              + hello.protocolVersion()
              + ", this program version "
              + HeadFrame.PROTOCOL_VERSION
              + "; load the firmware that belongs to this program into the head");
    }
    if (!wanted.serialNumber().isEmpty() && !wanted.serialNumber().equals(hello.serialNumber())) {
      return Optional.of(
          head
              + " has serial number "
              + hello.serialNumber()
              + ", but rig.toml names "
              + wanted.serialNumber()
              + "; plug that head in, or correct 'serial_number' in rig.toml");
    }
    if (!hello.watchdogProven()) {
      return Optional.of(
          head
              + " has not seen its own watchdog work; switch the head off and on, and repair it if"
              + " this stays");
    }
    return Optional.empty();
  }
}
