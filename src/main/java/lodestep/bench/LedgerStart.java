package lodestep.bench;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lodestep.config.RigConfig;
import lodestep.ledger.Chain;
import lodestep.ledger.EventCodec;
import lodestep.ledger.OpenWork;
import lodestep.measure.GaugeCalibration;
import lodestep.port.ActEvent;
import lodestep.port.Bytes;
import lodestep.port.LedgerArchive;
import lodestep.port.LedgerEvent;
import lodestep.port.Trip;
import lodestep.port.TripCause;

/**
 * What a start of the program makes of the ledger it takes up: a restart alone clears nothing. Any
 * thread, immutable.
 *
 * @param prologue the events a batch's first entries follow; the calibration's the last of them
 * @param recall pulses left open, to be asked of the head before the prologue closes them
 * @param trip that stood when the program last ended, and stands until the arm key is turned
 */
public record LedgerStart(
    List<LedgerEvent> prologue, Optional<PulseRecall> recall, Optional<LedgerEvent.Tripped> trip) {

  private static final String CUT = "the program ended in the middle of it";

  public LedgerStart {
    prologue = List.copyOf(prologue);
  }

  /** With no pulse left open. */
  public LedgerStart(List<LedgerEvent> prologue, Optional<LedgerEvent.Tripped> trip) {
    this(prologue, Optional.empty(), trip);
  }

  /**
   * The program that starts.
   *
   * @param virtualSeed in decimal; empty on a real rig
   * @param clockSynchronised as in {@link LedgerEvent.ProgramStarted}
   * @param calibrationSource certificate or procedure that gave the calibration
   */
  public record Program(
      String version,
      String virtualSeed,
      boolean clockSynchronised,
      GaugeCalibration calibration,
      String calibrationSource) {}

  /**
   * Closes what an earlier run left open, and names the program, its rig and its calibration. Reads
   * the archive, whose errors it passes on.
   */
  public static LedgerStart of(LedgerArchive archive, RigConfig rig, Program program) {
    OpenWork open = OpenWork.of(archive);
    List<LedgerEvent> events = new ArrayList<>(open.closings(CUT));
    String sha256 = rig.text().isEmpty() ? "" : sha256(rig.text());
    events.add(
        new LedgerEvent.ProgramStarted(
            program.version(), sha256, program.virtualSeed(), program.clockSynchronised()));
    if (!sha256.isEmpty() && !describes(archive, sha256)) {
      events.add(new LedgerEvent.RigDescribed(sha256, rig.text()));
    }
    events.add(set(program.calibration(), program.calibrationSource()));
    return new LedgerStart(events, recall(archive, open), open.trip());
  }

  /** What a later batch of the same program begins with: the calibration in use, once more. */
  public static LedgerStart later(Program program) {
    List<LedgerEvent> events = List.of(set(program.calibration(), program.calibrationSource()));
    return new LedgerStart(events, Optional.empty(), Optional.empty());
  }

  /** A head that was never heard cannot have fired: then there is nothing to ask. */
  private static Optional<PulseRecall> recall(LedgerArchive archive, OpenWork open) {
    Map<Long, ActEvent.PulseIntent> pulses = new LinkedHashMap<>();
    open.intents()
        .forEach(
            (number, intent) -> {
              if (intent instanceof ActEvent.PulseIntent pulse) {
                pulses.put(number, pulse);
              }
            });
    if (pulses.isEmpty()) {
      return Optional.empty();
    }
    List<LedgerEvent.HeadSeen> newest = new ArrayList<>();
    archive.forEachOfKind(
        EventCodec.kind(LedgerEvent.HeadSeen.class),
        stored -> {
          newest.clear();
          newest.add((LedgerEvent.HeadSeen) EventCodec.decode(stored).event());
        });
    return newest.stream().findFirst().map(seen -> new PulseRecall(seen.bootId(), pulses));
  }

  private static String sha256(String text) {
    return Chain.sha256(Bytes.ofUtf8(text)).toString();
  }

  private static boolean describes(LedgerArchive archive, String sha256) {
    boolean[] found = {false};
    archive.forEachOfKind(
        EventCodec.kind(LedgerEvent.RigDescribed.class),
        stored ->
            found[0] |=
                EventCodec.decode(stored).event() instanceof LedgerEvent.RigDescribed rig
                    && rig.sha256().equals(sha256));
    return found[0];
  }

  private static LedgerEvent set(GaugeCalibration calibration, String source) {
    return new LedgerEvent.CalibrationSet(
        Math.round(calibration.countsPerTesla()),
        Math.round(calibration.gainPerKelvin() * 1e6),
        Math.round(calibration.reference().degC() * 100),
        Math.round(calibration.relativeStandardUncertainty() * 1e6),
        source);
  }

  /**
   * The trip that stands at this start, for the interlocks' first state.
   *
   * @param nowNs monotonic time of this start; that of an earlier run means nothing now
   */
  public Optional<Trip> standing(long nowNs) {
    return trip.map(event -> standing(event, nowNs));
  }

  private static Trip standing(LedgerEvent.Tripped event, long nowNs) {
    return TripCause.of(event.code())
        .map(cause -> new Trip(cause, event.detail(), nowNs))
        .orElseGet(
            () ->
                // A newer program's trip, whose cause this one does not know, stands all the same.
                new Trip(
                    TripCause.PROGRAM_ERROR,
                    "trip " + event.code() + " on record: " + event.cause(),
                    nowNs));
  }
}
