package lodestep.bench;

import lodestep.config.BankConfig;
import lodestep.config.JigConfig;
import lodestep.config.Limits;
import lodestep.config.RigConfig;
import lodestep.dial.FieldSource;
import lodestep.dial.ForeseenActs;
import lodestep.dial.JigDrive;
import lodestep.dial.SwitchedDrive;
import lodestep.measure.SettlingRule;
import lodestep.quantity.TimeSpan;

/**
 * How long a magnet may take where none is on record: by the acts that the planner expects, and by
 * what the rig's parts and the gauge need for each. Pure.
 *
 * @param least seconds
 * @param most seconds
 */
public record SpanForeseen(double least, double most) {

  /**
   * Take out, put in, shut the lid, press: quick hands and slow ones. Common practice, no source.
   */
  private static final double HANDS_LEAST = 5;

  private static final double HANDS_MOST = 30;

  /** The same with a charge between jaws. Common practice, no source. */
  private static final double CHARGE_BY_HAND = 20;

  private static final double NS = 1e-9;

  /** One magnet on this rig. */
  static SpanForeseen of(Prepared prepared, ForeseenActs acts, SettlingRule rule, RigConfig rig) {
    Limits limits = rig.limits();
    double readLeast = NS * (rule.spanForNsMin() + limits.contactsDisagreeNs());
    double readMost = NS * rule.spanForNsMax();
    double relays = NS * (limits.relaySettleNs() + limits.windowWaitNs());
    double byHand = prepared.chargedBeforeSeated() ? CHARGE_BY_HAND : 0;
    double rest = prepared.row().keep().readAfter().map(TimeSpan::seconds).orElse(0.0);
    double charge =
        prepared.charge().map(source -> acts.charges() * strongest(source, rig)).orElse(0.0);
    double other = strongest(prepared.knockDown(), rig);
    int most = acts.charges() + acts.most();
    return new SpanForeseen(
        HANDS_LEAST
            + rest
            + charge
            + acts.least() * weakest(prepared.knockDown(), rig)
            + (1 + acts.charges() + acts.least()) * (readLeast + relays),
        HANDS_MOST
            + byHand
            + rest
            + charge
            + acts.most() * other
            + (1 + most) * (readMost + NS * limits.reportWaitNs()));
  }

  /** Seconds of the strongest act: a full bank, a full stroke. */
  private static double strongest(FieldSource source, RigConfig rig) {
    if (source instanceof JigDrive) {
      return strokeSeconds(rig.jig().orElseThrow());
    }
    return source instanceof SwitchedDrive ? onSeconds(rig) : fillSeconds(rig.bank());
  }

  private static double weakest(FieldSource source, RigConfig rig) {
    if (source instanceof JigDrive) {
      return strokeSeconds(rig.jig().orElseThrow()) / 2;
    }
    return source instanceof SwitchedDrive ? onSeconds(rig) : 0;
  }

  /** There and back over the whole travel. */
  private static double strokeSeconds(JigConfig jig) {
    return 2 * jig.screw().travel().metres() * 1e3 / jig.screw().millimetresPerSecond();
  }

  /** Two pulses' time: the one that proves the switch open, and the one that is wanted. */
  private static double onSeconds(RigConfig rig) {
    return rig.supply().map(supply -> 2 * NS * supply.onTimeNs()).orElse(0.0);
  }

  /**
   * From empty to the highest voltage: t = R C ln(V<sub>reached</sub> / (V<sub>reached</sub> - V)),
   * the bleeder in parallel to the fill resistor.
   */
  private static double fillSeconds(BankConfig bank) {
    double ohms = bank.fillOhms() * bank.bleederOhms() / (bank.fillOhms() + bank.bleederOhms());
    double reached = bank.reachedVoltage().volts();
    double left = Math.max(reached - bank.voltageMax().volts(), reached / 100);
    return ohms * bank.capacitanceFarads() * Math.log(reached / left);
  }
}
