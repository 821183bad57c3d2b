package lodestep.cli;

import java.util.Locale;
import java.util.Optional;
import lodestep.port.LedgerEvent;

/** What the head measured of a pulse, as words for a table; empty where nothing was measured. */
record PulseFigures(String bank, String peak) {

  private static final PulseFigures NONE = new PulseFigures("", "");

  /** Of an act that has no end on record, or an end without a report, nothing is known. */
  static PulseFigures of(LedgerEvent.Intent intent, Optional<? extends LedgerEvent.ActEnded> end) {
    return end.filter(LedgerEvent.PulseEnded.class::isInstance)
        .map(LedgerEvent.PulseEnded.class::cast)
        .filter(PulseFigures::reported)
        .map(ended -> of(intent, ended))
        .orElse(NONE);
  }

  private static PulseFigures of(LedgerEvent.Intent intent, LedgerEvent.PulseEnded ended) {
    long peakMilliAmps =
        intent.drivesNorth() ? ended.peakForwardMilliAmps() : ended.peakReverseMilliAmps();
    return new PulseFigures(
        String.format(Locale.ROOT, "%.2f V", ended.bankBeforeMilliVolts() * 1e-3),
        String.format(Locale.ROOT, "%.2f A", peakMilliAmps * 1e-3));
  }

  /** Without the head's report all its figures are nought, which no fired pulse's can be. */
  private static boolean reported(LedgerEvent.PulseEnded ended) {
    return ended.bankBeforeMilliVolts() != 0
        || ended.bankAfterMilliVolts() != 0
        || ended.peakForwardMilliAmps() != 0
        || ended.peakReverseMilliAmps() != 0
        || ended.durationMicros() != 0;
  }
}
