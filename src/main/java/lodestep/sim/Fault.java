package lodestep.sim;

import lodestep.port.InputLine;
import lodestep.port.OutputLine;

/**
 * What can break on the virtual rig, one record for each kind. Any thread, immutable.
 *
 * <p>Fault model: every kind may come and go at any virtual time, alone or together with others
 * ({@link FaultPlan}). A healed fault leaves behind what it did: a bank stays filled, a coil hot, a
 * magnet knocked down. A relay's mirror contact follows its armature, so a welded relay shows at
 * its mirror. The hard-wired chain itself is believed, but for the contacts in it.
 *
 * <p>Out of scope: fire, insulation, arcs and contact wear; a fault of two contacts of one relay
 * against each other; a head whose program is wrong rather than dead; hands where they should not
 * be.
 */
public sealed interface Fault {

  /** Marks itself in the state of the moment. */
  void raise(FaultState state);

  /** The armature does not move: pulled in, or released. */
  record RelayStuck(RelayName relay, boolean pulledIn) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.relaysStuckPulled |= pulledIn ? relay.bit() : 0;
      state.relaysStuckReleased |= pulledIn ? 0 : relay.bit();
    }
  }

  /** The make contact, once it is closed, does not open again. */
  record RelayWelded(RelayName relay) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.relaysWelded |= relay.bit();
    }
  }

  /** The contact itself is stuck; host, head and chain all see it so. */
  record ContactStuck(InputLine line, boolean closed) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.contactsStuckClosed |= closed ? FaultState.bit(line) : 0;
      state.contactsStuckOpen |= closed ? 0 : FaultState.bit(line);
    }
  }

  /** The wire from the contact to the host is broken: the host reads open. */
  record HostWireBroken(InputLine line) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.wiresOpenAtHost |= FaultState.bit(line);
    }
  }

  /** The wire from the contact to the head is broken: the head reads open. */
  record HeadWireBroken(InputLine line) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.wiresOpenAtHead |= FaultState.bit(line);
    }
  }

  /** Interference turns the host's input over for as long as the fault stands. */
  record InputFlipped(InputLine line) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.inputsFlipped |= FaultState.bit(line);
    }
  }

  /** Each pulse turns one of the host's inputs over for one to five milliseconds. */
  record PulseNoise() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.pulseNoise = true;
    }
  }

  /** An output's pin or driver is stuck; it reads back as it stands. */
  record OutputStuck(OutputLine line, boolean high) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.outputsStuckHigh |= high ? FaultState.bit(line) : 0;
      state.outputsStuckLow |= high ? 0 : FaultState.bit(line);
    }
  }

  /** The head works and listens, but its lines do not get out. */
  record HeadSilent() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.headSilent = true;
    }
  }

  /** The head's program hangs; its outputs stay until its watchdog resets it after 250 ms. */
  record HeadHung() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.headHung = true;
    }
  }

  /** The head has no supply; it starts anew when the fault ends. Its outputs are off. */
  record HeadDown() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.headDown = true;
    }
  }

  /** The cable between host and head is out: nothing passes either way. */
  record CablePulled() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.cablePulled = true;
    }
  }

  /**
   * Lines from the head arrive damaged and are dropped.
   *
   * @param fraction of all lines, 0 to 1
   */
  record LinesDamaged(double fraction) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.linesLostFraction = fraction;
    }
  }

  /** The Hall converter stands still: same counts, same sample counter. */
  record GaugeFrozen() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.gaugeFrozen = true;
    }
  }

  /**
   * The gauge has gone off: a knock, or age, has changed its gain.
   *
   * @param factor counts over what they were, &gt; 0
   */
  record GaugeOff(double factor) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.gaugeGain = factor;
    }
  }

  /**
   * What lies in the nest is warmer than nest and gauge when the fault comes, as from a hot coil or
   * a hand, and cools: a magnet's fault, not the rig's.
   *
   * @param kelvin by how much
   */
  record MagnetWarm(double kelvin) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.magnetWarmKelvin = kelvin;
    }
  }

  /** The coil's temperature sensor misbehaves. */
  record CoilSensor(Way way) implements Fault {

    /** How. */
    public enum Way {
      /** It does not: the reading is true. */
      WORKS,
      /** Broken wire: the reading lies at the cold end of the converter. */
      OPEN,
      /** Short circuit: the reading lies at the hot end of the converter. */
      SHORTED,
      /** The same raw reading again and again. */
      FROZEN,
      /** Fallen off the winding: the reading is the room's. */
      LOOSE
    }

    @Override
    public void raise(FaultState state) {
      state.coilSensor = way;
    }
  }

  /**
   * The head measures the bank wrongly.
   *
   * @param gain measured over true voltage; 0 for a lost wire, &ge; 0
   */
  record BankSense(double gain) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.bankSenseGain = gain;
    }
  }

  /**
   * The bank leaks.
   *
   * @param ohms across it, &gt; 0
   */
  record BankLeak(double ohms) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.bankLeakOhms = ohms;
    }
  }

  /** The bank's capacitors give back this part of the voltage that they long had, 0 to 1. */
  record BankReturns(double part) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.bankReturns = part;
    }
  }

  /**
   * The fill supply gives another voltage than it should.
   *
   * @param volts 0 when it is off, &ge; 0
   */
  record SupplyWrong(double volts) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.supplyVolts = volts;
    }
  }

  /** The bleed contact moves, but its resistor or wire is broken: only the bleeder is left. */
  record BleedPathOpen() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.bleedPathOpen = true;
    }
  }

  /**
   * The bank has lost capacitance.
   *
   * @param factor what is left, over what it was, &gt; 0
   */
  record CapacitanceLost(double factor) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.capacitanceFactor = factor;
    }
  }

  /**
   * Turns of the coil are shorted: copper and field for an ampere go by the turns that are left.
   *
   * @param inductanceFactor what is left, over what it was, &gt; 0; goes by their square
   */
  record TurnsShorted(double inductanceFactor) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.inductanceFactor = inductanceFactor;
    }
  }

  /** The solid-state switch conducts whatever its gate says. */
  record SwitchShorted() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.switchShorted = true;
    }
  }

  /** The switch, or the coil behind it, never conducts. */
  record SwitchOpen() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.switchOpen = true;
    }
  }

  /** The freewheel diode is broken off. */
  record DiodeMissing() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.diodeMissing = true;
    }
  }

  /** The coil's thermostat, or its wire, is open. */
  record ThermostatOpen() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.thermostatOpen = true;
    }
  }

  /**
   * The head's driver of the fire window is stuck: the gate has its supply outside a window too.
   */
  record WindowStuck() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.windowStuck = true;
    }
  }

  /** The hardware timer of a switched coil's gate does not end a pulse. */
  record TimerDead() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.timerDead = true;
    }
  }

  /** The jig's motor is stalled: the head counts its steps and nothing moves. */
  record JigStalled() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.jigStalled = true;
    }
  }

  /**
   * The jig's motor loses steps.
   *
   * @param fraction of all steps, 0 to 1
   */
  record JigStepsLost(double fraction) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.jigStepsLostFraction = fraction;
    }
  }

  /** The jig's motor turns the wrong way round: two of its wires are changed over. */
  record JigReversed() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.jigReversed = true;
    }
  }

  /**
   * A limit switch of the jig does not follow the carriage.
   *
   * @param home the home switch; else the far switch
   * @param closed stuck so; else stuck open, or its wire broken
   */
  record JigSwitchStuck(boolean home, boolean closed) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.jigHomeStuckClosed |= home && closed;
      state.jigHomeOpen |= home && !closed;
      state.jigFarStuckClosed |= !home && closed;
      state.jigFarOpen |= !home && !closed;
    }
  }

  /**
   * A limit switch of the jig opens and closes again and again.
   *
   * @param home the home switch; else the far switch
   */
  record JigSwitchFlickers(boolean home) implements Fault {
    @Override
    public void raise(FaultState state) {
      state.jigHomeFlickers |= home;
      state.jigFarFlickers |= !home;
    }
  }

  /**
   * The jig's driver does not stop: when the head makes no more steps it goes on at full speed, the
   * way it went last, for as long as it has its supply. The head does not count these steps.
   */
  record JigRunsOn() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.jigRunsOn = true;
    }
  }

  /** The opposing magnet has come off the carriage, and lies far away. */
  record JigMagnetLost() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.jigMagnetLost = true;
    }
  }

  /** The host's computer is too busy: no scan runs. */
  record HostPaused() implements Fault {
    @Override
    public void raise(FaultState state) {
      state.hostPaused = true;
    }
  }
}
