package lodestep.device;

import java.util.Optional;
import lodestep.protocol.HeadFrame;

/**
 * How a shot ended.
 *
 * @param outcome in the words of the record
 * @param token the token used, or 0
 * @param report what the head measured, when it said so
 * @param why one sentence when the pulse was not delivered; else empty
 */
public record ShotResult(
    Outcome outcome, int token, Optional<HeadFrame.PulseReport> report, String why) {

  /** The ends a pulse can have; after a crash there is also "unknown". */
  public enum Outcome {
    /** Fired, measured, current as expected. */
    DELIVERED("delivered"),
    /** The gate was driven but the coil carried no fitting current. */
    MISFIRED("misfired"),
    /** The gate was never driven. */
    NOT_FIRED("not fired"),
    /** The gate was driven and no report came. */
    UNVERIFIED("unverified");

    private final String word;

    Outcome(String word) {
      this.word = word;
    }

    /** As it stands in the record. */
    public String word() {
      return word;
    }
  }
}
