package lodestep.app;

import java.util.Optional;
import lodestep.config.HeadConfig;
import lodestep.interlock.HeadBuild;
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
   * Waits for the head's greeting, and for the figures it was built with where the rig has some,
   * {@value #WAIT_NS} ns at most; frames that come before are dropped.
   *
   * @param build what it must have been built with; empty for work in which it only measures
   * @return why the head cannot be used: what, where, what to do; empty when it can
   */
  static Optional<String> objection(
      HeadLink link, HeadConfig.SerialHead wanted, Optional<HeadBuild> build, Pace pace) {
    long beganNs = pace.nowNs();
    String opening = link.state(beganNs).words();
    long nowNs = beganNs;
    long askAtNs = beganNs + ASK_AGAIN_NS;
    boolean greeted = false;
    while (nowNs - beganNs < WAIT_NS) {
      for (ReceivedFrame received : link.take()) {
        if (received.frame() instanceof HeadFrame.Hello hello) {
          Optional<String> objection = objection(hello, wanted);
          if (objection.isPresent() || build.isEmpty()) {
            return objection;
          }
          greeted = true;
        }
        if (greeted && received.frame() instanceof HeadFrame.Build said) {
          return objection(said, wanted, build.orElseThrow());
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
    return Optional.of(
        greeted
            ? "the head on port "
                + wanted.port()
                + " does not say what it was built with; load the firmware that belongs to this"
                + " program into the head"
            : silence(link.state(nowNs), wanted));
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

  /** Why a head with these figures cannot be used. */
  private static Optional<String> objection(
      HeadFrame.Build said, HeadConfig.SerialHead wanted, HeadBuild build) {
    return build
        .difference(said)
        .map(
            differing ->
                "the head on port "
                    + wanted.port()
                    + " was built with other figures than rig.toml has: "
                    + differing
                    + "; correct rig.toml, or load the firmware built for this rig into the head");
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
