package lodestep.sim;

import java.util.SplittableRandom;
import lodestep.port.Contacts;
import lodestep.port.InputLine;
import lodestep.port.Lines;
import lodestep.port.Outputs;

/** The host's wires to the virtual rig. Confined to the rig's thread. */
public final class VirtualLines implements Lines {

  private static final int FLIP_MAX_MS = 5;
  private static final long NS_PER_MS = 1_000_000L;

  private final Plant plant;
  private final Controls controls;
  private final FaultState faults;
  private final SplittableRandom random;
  private Outputs asked = Outputs.ALL_LOW;
  private Outputs driven = Outputs.ALL_LOW;
  private boolean closed;
  private long pulsesSeen;
  private int flippedBit;
  private long flippedUntilNs;

  VirtualLines(Plant plant, Controls controls, Plant.Drawn drawn) {
    this.plant = plant;
    this.controls = controls;
    this.faults = drawn.faults();
    this.random = drawn.random();
    level();
  }

  @Override
  public Contacts read(long nowNs) {
    int bits = plant.contactBits() & ~faults.wiresOpenAtHost;
    bits ^= faults.inputsFlipped;
    if (faults.pulseNoise) {
      bits ^= pulseNoise(nowNs);
    }
    return new Contacts(bits, nowNs);
  }

  private int pulseNoise(long nowNs) {
    long pulses = plant.circuit().pulses();
    if (pulses != pulsesSeen) {
      pulsesSeen = pulses;
      flippedBit = 1 << random.nextInt(InputLine.values().length);
      flippedUntilNs = nowNs + (1 + random.nextInt(FLIP_MAX_MS)) * NS_PER_MS;
    }
    return nowNs - flippedUntilNs < 0 ? flippedBit : 0;
  }

  @Override
  public Outputs drive(Outputs outputs) {
    asked = closed ? Outputs.ALL_LOW : outputs;
    level();
    return driven;
  }

  /** Faults may have changed: what is stuck, or stuck no longer, is levelled anew. */
  void level() {
    int bits = (asked.highBits() | faults.outputsStuckHigh) & ~faults.outputsStuckLow;
    driven = bits == asked.highBits() ? asked : new Outputs(bits);
    plant.drive(driven);
    controls.show(driven);
  }

  /** The levels that really stand at the outputs. */
  public Outputs driven() {
    return driven;
  }

  @Override
  public void close() {
    closed = true;
    asked = Outputs.ALL_LOW;
    level();
  }
}
