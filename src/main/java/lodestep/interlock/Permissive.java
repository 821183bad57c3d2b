package lodestep.interlock;

import static lodestep.interlock.Condition.BANK_LOW;
import static lodestep.interlock.Condition.BANK_PROVEN;
import static lodestep.interlock.Condition.BANK_WITHIN_CAP;
import static lodestep.interlock.Condition.BLEED_OPEN;
import static lodestep.interlock.Condition.CHAIN_CLOSED;
import static lodestep.interlock.Condition.COIL_COOL;
import static lodestep.interlock.Condition.CONTACTS_AGREE;
import static lodestep.interlock.Condition.CURRENT_ZERO;
import static lodestep.interlock.Condition.GATE_LOW;
import static lodestep.interlock.Condition.HEAD_KNOWN;
import static lodestep.interlock.Condition.JIG_FIT;
import static lodestep.interlock.Condition.JIG_PARKED;
import static lodestep.interlock.Condition.KEY_ON;
import static lodestep.interlock.Condition.LID_A_CLOSED;
import static lodestep.interlock.Condition.LID_B_CLOSED;
import static lodestep.interlock.Condition.LID_PROVEN;
import static lodestep.interlock.Condition.NO_TRIP;
import static lodestep.interlock.Condition.PERMIT_HELD;
import static lodestep.interlock.Condition.RELAYS_SETTLED;
import static lodestep.interlock.Condition.SCAN_ON_TIME;
import static lodestep.interlock.Condition.STATUS_FRESH;
import static lodestep.interlock.Condition.STATUS_YOUNG;
import static lodestep.interlock.Condition.STOP_LOOP_CLOSED;
import static lodestep.interlock.Condition.SWITCHED;
import static lodestep.interlock.Condition.WINDOW_OPEN;

import java.util.List;
import lodestep.port.OutputLine;
import lodestep.port.Outputs;

/**
 * The permission as a pure function of one {@link PermissionRow}. {@code
 * safety/permission-table.txt} says the same in another way, and a test compares the two for every
 * row there is.
 */
public final class Permissive {

  private static final int SAFE =
      mask(
          STATUS_FRESH,
          LID_A_CLOSED,
          LID_B_CLOSED,
          LID_PROVEN,
          STOP_LOOP_CLOSED,
          CHAIN_CLOSED,
          KEY_ON,
          NO_TRIP,
          COIL_COOL,
          HEAD_KNOWN);
  private static final int HOLD = SAFE | mask(PERMIT_HELD, JIG_PARKED);
  private static final int ON = HOLD | mask(BANK_WITHIN_CAP, SWITCHED);
  private static final int FILL = HOLD | mask(BANK_WITHIN_CAP, BLEED_OPEN, GATE_LOW);
  private static final int FIRE =
      HOLD
          | mask(
              STATUS_YOUNG,
              SCAN_ON_TIME,
              CONTACTS_AGREE,
              BANK_WITHIN_CAP,
              WINDOW_OPEN,
              RELAYS_SETTLED,
              BLEED_OPEN,
              BANK_PROVEN);

  /** The jig moves only with its switches in order, and never with energy in bank or coil. */
  private static final int MOVE =
      SAFE | mask(PERMIT_HELD, BANK_LOW, CURRENT_ZERO, GATE_LOW, JIG_FIT);

  /** Relays of the coil's path may move only now: no current, no charge, no gate. */
  private static final int DRY = mask(STATUS_FRESH, BANK_LOW, CURRENT_ZERO, GATE_LOW);

  private static final Outputs SIGNALS =
      Outputs.high(
          OutputLine.LAMP_READY,
          OutputLine.LAMP_BUSY,
          OutputLine.LAMP_ACCEPT,
          OutputLine.LAMP_REFUSE,
          OutputLine.BUZZER);

  /** The relays of a coil that has no ladder. */
  private static final Outputs TWO_RELAYS =
      Outputs.high(OutputLine.COIL_REVERSE, OutputLine.COIL_FULL);

  private static final int MAY_ASK = 1;
  private static final int MAY_HOLD = 2;
  private static final int MAY_FILL = 4;
  private static final int MAY_FIRE = 8;
  private static final int MAY_SWITCH = 16;
  private static final int MAY_MOVE = 32;
  private static final int MUST_KEEP = 64;
  private static final int SWITCHABLE = 128;

  /** Every permission there is, made once: none is made in a scan. */
  private static final List<Permission> ALL = all();

  private Permissive() {}

  /** What may be driven. */
  public static Permission of(PermissionRow row) {
    int verdict = row.all(SAFE) ? MAY_ASK : 0;
    boolean bank = !row.met(SWITCHED);
    verdict |= bank && row.all(HOLD) ? MAY_HOLD : 0;
    verdict |= bank && row.all(FILL) && lowOrProven(row) ? MAY_FILL : 0;
    verdict |= row.all(ON) && staysDry(row) ? MAY_SWITCH : 0;
    verdict |= bank ? 0 : SWITCHABLE;
    verdict |= row.all(FIRE) && mayStartOrGoOn(row) ? MAY_FIRE : 0;
    verdict |= row.all(MOVE) && !row.met(WINDOW_OPEN) && !row.met(BLEED_OPEN) ? MAY_MOVE : 0;
    verdict |= row.all(DRY) && !row.met(WINDOW_OPEN) ? 0 : MUST_KEEP;
    return ALL.get(verdict);
  }

  /** Why the line may not be high: the conditions not met; empty when it may, or always may not. */
  public static List<Condition> unmet(PermissionRow row, OutputLine line) {
    int mask =
        switch (line) {
          case BANK_FILL -> row.met(BANK_LOW) ? FILL : FILL | BANK_PROVEN.bit();
          case COIL_ON -> row.met(BLEED_OPEN) ? ON : ON | GATE_LOW.bit();
          case BANK_HOLD -> HOLD;
          case COIL_FIRE -> row.met(GATE_LOW) ? FIRE | CURRENT_ZERO.bit() : FIRE;
          case COIL_REVERSE, COIL_FULL -> SAFE;
          case LADDER_1, LADDER_2, LADDER_3, LADDER_4, LADDER_5, LADDER_6, LADDER_7, LADDER_8 ->
              SAFE | SWITCHED.bit();
          case JIG_ENABLE -> MOVE;
          case LAMP_READY, LAMP_BUSY, LAMP_ACCEPT, LAMP_REFUSE, BUZZER -> 0;
        };
    return List.copyOf(row.unmet(mask));
  }

  /** A bank is filled for its proof with little in it, and for a pulse when it is proven. */
  private static boolean lowOrProven(PermissionRow row) {
    return row.met(BANK_LOW) || row.met(BANK_PROVEN);
  }

  /** A pulse begins with a coil at rest; while the gate is high its current is the pulse itself. */
  private static boolean mayStartOrGoOn(PermissionRow row) {
    return row.met(CURRENT_ZERO) || !row.met(GATE_LOW);
  }

  /** The feed relay never closes onto a closed switch; once closed it stays through the pulse. */
  private static boolean staysDry(PermissionRow row) {
    return row.met(GATE_LOW) || row.met(BLEED_OPEN);
  }

  private static List<Permission> all() {
    Permission[] all = new Permission[2 * SWITCHABLE];
    for (int verdict = 0; verdict < all.length; verdict++) {
      int bits = SIGNALS.highBits();
      Outputs relays = (verdict & SWITCHABLE) != 0 ? Permission.COIL_RELAYS : TWO_RELAYS;
      bits |= (verdict & MAY_ASK) != 0 ? relays.highBits() : 0;
      bits |= (verdict & MAY_SWITCH) != 0 ? Outputs.high(OutputLine.COIL_ON).highBits() : 0;
      bits |= (verdict & MAY_HOLD) != 0 ? Outputs.high(OutputLine.BANK_HOLD).highBits() : 0;
      bits |= (verdict & MAY_FILL) != 0 ? Outputs.high(OutputLine.BANK_FILL).highBits() : 0;
      bits |= (verdict & MAY_FIRE) != 0 ? Outputs.high(OutputLine.COIL_FIRE).highBits() : 0;
      bits |= (verdict & MAY_MOVE) != 0 ? Outputs.high(OutputLine.JIG_ENABLE).highBits() : 0;
      Outputs kept = (verdict & MUST_KEEP) != 0 ? Permission.COIL_RELAYS : Outputs.ALL_LOW;
      all[verdict] = new Permission(new Outputs(bits), kept, (verdict & MAY_ASK) != 0);
    }
    return List.of(all);
  }

  private static int mask(Condition... conditions) {
    int bits = 0;
    for (Condition condition : conditions) {
      bits |= condition.bit();
    }
    return bits;
  }
}
