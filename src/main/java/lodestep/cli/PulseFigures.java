package lodestep.cli;

import java.util.Locale;
import java.util.Optional;
import lodestep.port.ActEvent;

/** What the head measured of a pulse, as words for a table; empty where nothing was measured. */
record PulseFigures(String setting, String peak) {

  private static final PulseFigures NONE = new PulseFigures("", "");

  /** Of an act that has no end on record, or an end without a report, nothing is known. */
  static PulseFigures of(ActEvent.Intent intent, Optional<? extends ActEvent.ActEnded> end) {
    Optional<ActEvent.StrokeEnded> stroke =
        end.filter(ActEvent.StrokeEnded.class::isInstance).map(ActEvent.StrokeEnded.class::cast);
    if (stroke.isPresent()) {
      return of(stroke.get());
    }
    return end.filter(ActEvent.PulseEnded.class::isInstance)
        .map(ActEvent.PulseEnded.class::cast)
        .filter(PulseFigures::reported)
        .map(ended -> of(intent, ended))
        .orElse(NONE);
  }

  private static PulseFigures of(ActEvent.Intent intent, ActEvent.PulseEnded ended) {
    long peakMilliAmps =
        intent.drivesNorth() ? ended.peakForwardMilliAmps() : ended.peakReverseMilliAmps();
    return new PulseFigures(
        setting(intent, ended), String.format(Locale.ROOT, "%.2f A", peakMilliAmps * 1e-3));
  }

  /** What the pulse was made with: the bank's voltage, or the ladder's level. */
  private static String setting(ActEvent.Intent intent, ActEvent.PulseEnded ended) {
    if (intent instanceof ActEvent.SwitchedPulseIntended switched) {
      return switched.full() ? "full" : "level " + switched.level();
    }
    return String.format(Locale.ROOT, "%.2f V", ended.bankBeforeMilliVolts() * 1e-3);
  }

  private static PulseFigures of(ActEvent.StrokeEnded ended) {
    return ended.positionMicroMetres() == 0
        ? NONE
        : new PulseFigures(
            String.format(Locale.ROOT, "gap %.2f mm", ended.gapMicroMetres() * 1e-3),
            String.format(Locale.ROOT, "%.1f kA/m", ended.fieldAmperesPerMetre() * 1e-3));
  }

  /** What such an act is called. */
  static String noun(ActEvent.Intent intent) {
    return intent instanceof ActEvent.StrokeIntended ? "stroke" : "pulse";
  }

  /** Without the head's report all its figures are nought, which no fired pulse's can be. */
  private static boolean reported(ActEvent.PulseEnded ended) {
    return ended.bankBeforeMilliVolts() != 0
        || ended.bankAfterMilliVolts() != 0
        || ended.peakForwardMilliAmps() != 0
        || ended.peakReverseMilliAmps() != 0
        || ended.durationMicros() != 0;
  }
}
