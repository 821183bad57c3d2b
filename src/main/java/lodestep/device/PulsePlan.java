package lodestep.device;

import lodestep.config.CoilConfig;
import lodestep.config.Limits;
import lodestep.port.ActEvent;
import lodestep.port.Outputs;
import lodestep.port.View;

/** What stays the same through one pulse, whatever feeds the coil. Any thread, immutable. */
public sealed interface PulsePlan permits ShotPlan, SwitchedPlan {

  /** What it is for. */
  Order order();

  /** The ledger number of its intent. */
  long intentNumber();

  /** Peak current expected, &gt; 0; a tenth of it is the least that counts as delivered. */
  double expectedPeakAmps();

  /** The coil it goes through. */
  CoilConfig coil();

  /** The design's times and levels. */
  Limits limits();

  /** The record of the intent. */
  ActEvent.Intent intent();

  /** The relays in this pulse's positions, nothing energised. */
  Outputs relays();

  /** The same with the bank held, or the feed on. */
  Outputs holding();

  /** The levels with which preparing begins: nothing energised. */
  Outputs preparing();

  /** The first state after the intent is on disk. */
  PulseState prepare(long nowNs);

  /** Voltage of bank or feed above which the head must refuse the window. */
  int highestMilliVolts();

  /** How long the gate is driven. */
  long fireForNs();

  /** Time until bank or feed stands at the asked voltage, in seconds; 0 when it does. */
  double secondsToMeet(View view);

  /** The levels while the report is awaited, the gate low. */
  Outputs afterGate(View view);

  /** What answers to this pulse, for {@link ActResult.Lesson}. */
  String answer();
}
