package lodestep.app;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import lodestep.port.ActEvent.PulseEnded;
import lodestep.port.ActEvent.PulseIntended;
import lodestep.port.EventDraft;
import lodestep.port.LedgerEvent;
import lodestep.port.LedgerEvent.BankProven;
import lodestep.port.LedgerEvent.BatchEnded;
import lodestep.port.LedgerEvent.BatchStarted;
import lodestep.port.LedgerEvent.CalibrationSet;
import lodestep.port.LedgerEvent.CurvePoint;
import lodestep.port.LedgerEvent.MagnetNamed;
import lodestep.port.LedgerEvent.MagnetStarted;
import lodestep.port.LedgerEvent.ProgramStarted;
import lodestep.port.LedgerEvent.ProgramStopped;
import lodestep.port.LedgerEvent.ReadingTaken;
import lodestep.port.LedgerEvent.Tripped;
import lodestep.port.LedgerEvent.VerdictGiven;
import lodestep.port.LedgerEvent.ZeroTaken;

/**
 * Years of an invented bench's record, for measuring: the same kinds of events in the same order
 * and of the same lengths as a batch of rods leaves them, with figures drawn from a seed. A batch a
 * day, {@value #MAGNETS} magnets a batch. One thread.
 */
final class SyntheticRecord {

  /** Magnets of one day's batch. */
  static final int MAGNETS = 60;

  private static final long DAY_MS = 86_400_000L;
  private static final Instant FIRST_DAY = Instant.parse("2026-01-05T07:00:00Z");
  private static final String NEST = "rod nest";
  private static final int TRIP_CODE = 12;

  private static final String WHY =
      "inside the tolerance and held by the proof pulse; opposing fields up to 18.4 kA/m leave it"
          + " so, ten years are expected to take 0.3 G";

  private final Random random;
  private final List<EventDraft> day = new ArrayList<>();
  private long number;
  private long dayNumber;
  private long atMs;
  private long calibration;
  private long zero;

  /**
   * @param from number of the newest event that stands before
   */
  SyntheticRecord(long seed, long from) {
    this.random = new Random(seed);
    this.number = from;
  }

  /** The events of the next day, in their order. */
  List<EventDraft> nextDay() {
    day.clear();
    atMs = 0;
    add(new ProgramStarted("1.0", "ab".repeat(32), "", true));
    add(new CalibrationSet(500_000, 0, 2_000, 1_000, "nominal, not calibrated"));
    calibration = number;
    add(new BatchStarted("order-" + dayNumber + ".csv", "cd".repeat(32), plan(), MAGNETS));
    long batch = number;
    long first = number + 1;
    for (int i = 0; i < MAGNETS; i++) {
      add(named(batch, i));
    }
    for (int i = 0; i < MAGNETS; i++) {
      dial(first + i);
    }
    add(new BatchEnded(batch, MAGNETS, 0, 0, "all magnets have a verdict"));
    add(new ProgramStopped("the batch is over"));
    dayNumber++;
    return List.copyOf(day);
  }

  private static String plan() {
    return """
    name,set,alloy,shape,size,nest,pole up,target,tolerance,count
    wren,birds,alnico 3,rod,4.6 x 15.5 mm,,north,440 G,8 G,60
    """;
  }

  private MagnetNamed named(long batch, int index) {
    return new MagnetNamed(
        batch,
        "wren-" + dayNumber + "-" + (index + 1),
        2,
        index + 1L,
        "birds",
        "",
        "alnico 3",
        "rod",
        List.of(4_600L, 15_500L),
        NEST,
        "north",
        "level",
        44_000,
        0,
        0,
        800,
        0,
        0);
  }

  private void dial(long magnet) {
    if (random.nextInt(500) == 0) {
      add(new Tripped(TRIP_CODE, "the lid was opened", "lid_a open", 0));
      add(new LedgerEvent.TripReset(TRIP_CODE));
    }
    add(new ZeroTaken(-drawn(128_275), drawn(4_206), 51, 2_153, calibration));
    zero = number;
    add(new MagnetStarted(magnet, 1, NEST, "expected curve"));
    read(magnet, "as found", drawn(30));
    pulse(magnet, 1, "charge", 131_372, true);
    read(magnet, "charged", drawn(60_264));
    pulse(magnet, 2, "knock down", 2_248, false);
    long level = drawn(44_100);
    read(magnet, "knocked down", level);
    pulse(magnet, 3, "proof", 1_912, false);
    read(magnet, "proof", level);
    add(
        new VerdictGiven(
            magnet,
            1,
            random.nextInt(40) == 0 ? "refused" : "accepted",
            level,
            62_490,
            44_000,
            800,
            124_981,
            1,
            1,
            0,
            WHY));
    add(
        new CurvePoint(
            "alnico 3, rod 4.60 x 15.50 mm, rod nest",
            magnet,
            1,
            1,
            drawn(15_743_000),
            drawn(60_264),
            level));
  }

  private void read(long magnet, String stage, long microTesla) {
    add(
        new ReadingTaken(
            magnet, stage, microTesla, drawn(62_478), 50, 2_155, NEST, 2_000, zero, calibration));
  }

  private void pulse(long magnet, long ordinal, String purpose, long milliAmps, boolean full) {
    long volts = full ? 47_983 : drawn(11_261);
    add(
        new PulseIntended(
            magnet,
            1,
            ordinal,
            purpose,
            full,
            full,
            volts,
            volts + 96,
            milliAmps * 7,
            milliAmps,
            "rod coil"));
    long intent = number;
    if (full) {
      add(new BankProven(magnet, 6_148, 6_132, 115_000, 3, 3_045, 345_000));
    }
    add(
        new PulseEnded(
            intent,
            magnet,
            "delivered",
            318_023 + intent,
            11_205,
            volts - 3,
            full ? 1 : 6_229,
            full ? milliAmps : 0,
            full ? 0 : milliAmps,
            65_320,
            2_249,
            ""));
  }

  private long drawn(long about) {
    return about + random.nextInt((int) Math.min(2_000, about));
  }

  private void add(LedgerEvent event) {
    number++;
    atMs += 900;
    day.add(
        new EventDraft(event, atMs * 1_000_000, FIRST_DAY.plusMillis(dayNumber * DAY_MS + atMs)));
  }
}
