package lodestep.interlock;

import lodestep.port.InputLine;
import lodestep.port.TripCause;

/** The memory of all interlocks; each of them looks at every scan. */
record Watches(
    LidWatch lid,
    HeadWatch head,
    IdentityWatch identity,
    LineWatch line,
    ClockWatch clock,
    SensorWatch sensors,
    RelayWatch relays,
    BankWatch bank,
    ProofWatch proof,
    PulseWatch pulse,
    SwitchedWatch switched,
    HeatWatch heat,
    JigWatch jig) {

  static final Watches POWER_ON =
      new Watches(
          LidWatch.POWER_ON,
          HeadWatch.POWER_ON,
          IdentityWatch.POWER_ON,
          LineWatch.POWER_ON,
          ClockWatch.POWER_ON,
          SensorWatch.POWER_ON,
          RelayWatch.POWER_ON,
          BankWatch.POWER_ON,
          ProofWatch.NONE,
          PulseWatch.POWER_ON,
          SwitchedWatch.POWER_ON,
          HeatWatch.POWER_ON,
          JigWatch.POWER_ON);

  Watches step(Seen seen) {
    PulseWatch nextPulse = pulse.step(seen);
    return new Watches(
        lid.step(seen),
        head.step(seen),
        identity.step(seen),
        line.step(seen),
        clock.step(seen),
        sensors.step(seen),
        relays.step(seen),
        bank.step(seen, nextPulse.notFired()),
        proof.step(seen),
        nextPulse,
        switched.step(seen),
        heat.step(seen),
        jig.step(seen));
  }

  /** The same, with nothing proven. */
  Watches unproven() {
    return proof.equals(ProofWatch.NONE)
        ? this
        : new Watches(
            lid,
            head,
            identity,
            line,
            clock,
            sensors,
            relays,
            bank,
            ProofWatch.NONE,
            pulse,
            switched,
            heat,
            jig);
  }

  /** All causes that are there in this scan, as bits. */
  long causes(Seen seen) {
    InterlockInputs in = seen.in();
    boolean late = in.lateNs() > seen.figures().limits().scanLateTripNs();
    boolean keyOff = !seen.closed(InputLine.ARM_KEY) && seen.inUse();
    return Causes.when(in.stopAsked(), TripCause.STOP_ASKED)
        | Causes.when(!seen.closed(InputLine.STOP_LOOP), TripCause.STOP_LOOP_OPEN)
        | Causes.when(keyOff, TripCause.ARM_KEY_OFF)
        | Causes.when(late, TripCause.SCAN_LATE)
        | Causes.when(in.ledger().fault().isPresent(), TripCause.LEDGER_FAILED)
        | Causes.when(in.programFailed(), TripCause.PROGRAM_ERROR)
        | lid.causes(seen)
        | head.causes(seen)
        | identity.causes(seen)
        | line.causes(seen)
        | clock.causes()
        | sensors.causes(seen)
        | relays.causes(seen)
        | bank.causes(seen)
        | proof.causes()
        | pulse.causes(seen)
        | switched.causes()
        | heat.causes()
        | jig.causes(seen);
  }
}
