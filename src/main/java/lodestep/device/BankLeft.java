package lodestep.device;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import lodestep.port.LedgerEvent;

/**
 * How much of its capacitance the bank has left, by its own proofs. Each proof lets the bank bleed
 * through a known resistor from a measured voltage to another: the time constant is &tau; = t /
 * ln(V<sub>held</sub> / V<sub>bled</sub>) = R C. Against what it was when the bank was new, R and
 * the release of the relay drop out. Pure; any thread, immutable.
 *
 * <p>On the virtual rig one proof tells it to 0.4 per cent (one standard deviation; status lines
 * come each 10 ms, and that is 3 per cent of the time to half), so a median of five to 0.2: far
 * within what warns.
 *
 * @param first time constants of the first proofs, in seconds; at most {@link #FIRST}
 * @param newest of the newest proofs after these; at most {@link #NEWEST}
 */
public record BankLeft(List<Double> first, List<Double> newest) {

  /** So many proofs tell what the bank had when it was new. */
  public static final int FIRST = 20;

  /** So many proofs tell what it has now: two that are odd do not move their median. */
  public static final int NEWEST = 5;

  /** With this part lost new capacitors should lie ready; starting value. */
  public static final double LOW_BY = 0.05;

  /** With this part lost nothing is fired any more; starting value. */
  public static final double LOST_BY = 0.10;

  /** Nothing is proven yet. */
  public static final BankLeft UNKNOWN = new BankLeft(List.of(), List.of());

  public BankLeft {
    first = List.copyOf(first);
    newest = List.copyOf(newest);
  }

  /** With one more proof; one that tells nothing is left out. */
  public BankLeft with(LedgerEvent.BankProven proof) {
    boolean tells =
        proof.bledMicros() > 0
            && proof.bledMilliVolts() > 0
            && proof.heldMilliVolts() > proof.bledMilliVolts();
    if (!tells) {
      return this;
    }
    double seconds =
        proof.bledMicros()
            * 1e-6
            / Math.log(proof.heldMilliVolts() / (double) proof.bledMilliVolts());
    return first.size() < FIRST
        ? new BankLeft(more(first, seconds, FIRST), newest)
        : new BankLeft(first, more(newest, seconds, NEWEST));
  }

  private static List<Double> more(List<Double> before, double seconds, int most) {
    List<Double> all = new ArrayList<>(before);
    all.add(seconds);
    return all.subList(Math.max(0, all.size() - most), all.size());
  }

  /** How many proofs tell of it. */
  public int proofs() {
    return first.size() + newest.size();
  }

  /** The part that is left of what it had; empty while too few proofs are on record. */
  public Optional<Double> part() {
    return newest.size() < NEWEST
        ? Optional.empty()
        : Optional.of(Medians.of(newest) / Medians.of(first));
  }

  /** Whether so much is lost that new capacitors should lie ready, or more. */
  public boolean low() {
    return part().map(part -> part <= 1 - LOW_BY).orElse(false);
  }

  /** Whether so much is lost that nothing may be fired. */
  public boolean lost() {
    return part().map(part -> part <= 1 - LOST_BY).orElse(false);
  }

  /** Whether there is something that a person should mind. */
  public boolean minds() {
    return low() || grown();
  }

  private boolean grown() {
    return part().map(part -> part >= 1 + LOST_BY).orElse(false);
  }

  /** The same in a sentence for a person, with what to do. */
  public String sentence() {
    if (part().isEmpty()) {
      return String.format(
          Locale.ROOT,
          "what the bank has lost of its capacitance is told from %d proofs on; %d are on record",
          FIRST + NEWEST,
          proofs());
    }
    if (lost()) {
      return String.format(
          Locale.ROOT,
          "the bank has lost %.1f %% of its capacitance; have its capacitors replaced, and write"
              + " the day as 'new_since' into [bank] of rig.toml",
          100 * (1 - part().orElseThrow()));
    }
    String left =
        String.format(
            Locale.ROOT,
            "the bank has %.1f %% of the capacitance it had when it was new",
            100 * part().orElseThrow());
    if (grown()) {
      return left + "; if it was replaced, write the day as 'new_since' into [bank] of rig.toml";
    }
    return low() ? left + "; have new capacitors at hand" : left;
  }
}
