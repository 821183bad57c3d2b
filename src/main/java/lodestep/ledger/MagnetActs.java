package lodestep.ledger;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import lodestep.port.ActEvent;
import lodestep.port.ActEvent.ActEnded;
import lodestep.port.ActEvent.Intent;
import lodestep.port.LedgerEvent.ActByHand;
import lodestep.port.LedgerEvent.ReadingTaken;

/**
 * What was done to a magnet, act by act, each with what it read before and after; what was read
 * with nothing done before it stands among them. Any thread, immutable.
 *
 * @param rows in the order it happened
 */
public record MagnetActs(List<Row> rows) {

  public MagnetActs {
    rows = List.copyOf(rows);
  }

  /**
   * An act, or a reading by itself.
   *
   * @param number of its event
   * @param attempt from 1
   * @param what "charge", "knock down", "demagnetise", "proof"; of a reading its stage
   * @param north whether it drives the gauge's face north; empty of a reading
   * @param byHand whether a person did it
   * @param fieldAperM peak at the work as delivered, without sign, in A/m; empty where it was not
   *     measured
   * @param beforeMicroTesla the newest reading before it, signed; empty if there is none
   * @param afterMicroTesla the reading after it, signed; empty if there is none
   * @param how how it went, where there is something to say
   */
  public record Row(
      long number,
      long attempt,
      String what,
      Optional<Boolean> north,
      boolean byHand,
      OptionalDouble fieldAperM,
      OptionalLong beforeMicroTesla,
      OptionalLong afterMicroTesla,
      String how) {

    /** Whether anything was done: it is not a reading alone. */
    public boolean isAct() {
      return north.isPresent();
    }

    private Row readAs(long microTesla) {
      return new Row(
          number,
          attempt,
          what,
          north,
          byHand,
          fieldAperM,
          beforeMicroTesla,
          OptionalLong.of(microTesla),
          how);
    }
  }

  /** Of one magnet, all attempts. */
  public static MagnetActs of(MagnetHistory history) {
    Collector collector = new Collector();
    history.happenings().forEach(collector::take);
    return new MagnetActs(collector.rows);
  }

  /** Those of one attempt. */
  public MagnetActs ofAttempt(long attempt) {
    return new MagnetActs(rows.stream().filter(row -> row.attempt() == attempt).toList());
  }

  /** One thread. */
  private static final class Collector {

    private final List<Row> rows = new ArrayList<>();
    private OptionalLong last = OptionalLong.empty();

    /** Whether the newest row is an act that was not read after yet. */
    private boolean open;

    void take(MagnetHistory.Happening happening) {
      if (happening.what() instanceof MagnetHistory.What.Acted acted) {
        add(acted(happening, acted.intent(), acted.end()));
      } else if (happening.what() instanceof MagnetHistory.What.ByHand hand) {
        add(byHand(happening, hand.event()));
      } else if (happening.what() instanceof MagnetHistory.What.Reading reading) {
        read(happening, reading.event());
      } else if (happening.what() instanceof MagnetHistory.What.Started) {
        // What was read in another attempt is not what stood before this one's first act.
        last = OptionalLong.empty();
        open = false;
      }
    }

    private void add(Row row) {
      rows.add(row);
      open = true;
    }

    private void read(MagnetHistory.Happening happening, ReadingTaken reading) {
      last = OptionalLong.of(reading.fieldMicroTesla());
      if (open) {
        int newest = rows.size() - 1;
        rows.set(newest, rows.get(newest).readAs(reading.fieldMicroTesla()));
      } else {
        rows.add(
            new Row(
                happening.number(),
                happening.attempt(),
                reading.stage(),
                Optional.empty(),
                false,
                OptionalDouble.empty(),
                OptionalLong.empty(),
                last,
                ""));
      }
      open = false;
    }

    private Row acted(MagnetHistory.Happening happening, Intent intent, Optional<ActEnded> end) {
      String how =
          end.map(
                  ended ->
                      ended.outcome().equals("delivered")
                          ? ""
                          : ended.outcome() + (ended.why().isEmpty() ? "" : ": " + ended.why()))
              .orElse("no end on record");
      return new Row(
          happening.number(),
          happening.attempt(),
          intent.purpose(),
          Optional.of(intent.drivesNorth()),
          false,
          end.map(ended -> delivered(intent, ended)).orElse(OptionalDouble.empty()),
          last,
          OptionalLong.empty(),
          how);
    }

    private Row byHand(MagnetHistory.Happening happening, ActByHand act) {
      // Nought stands for not read; no magnet reads exactly that.
      OptionalLong before =
          act.beforeMicroTesla() == 0 ? last : OptionalLong.of(act.beforeMicroTesla());
      last = OptionalLong.of(act.afterMicroTesla());
      return new Row(
          happening.number(),
          happening.attempt(),
          act.act(),
          Optional.of(act.drivesNorth()),
          true,
          OptionalDouble.empty(),
          before,
          last,
          "asked: " + act.asked());
    }

    /** The field that was reckoned for the pulse, by the current that was measured of it. */
    private static OptionalDouble delivered(Intent intent, ActEnded end) {
      if (end instanceof ActEvent.StrokeEnded stroke) {
        return above((double) stroke.fieldAmperesPerMetre());
      }
      ActEvent.PulseEnded pulse = (ActEvent.PulseEnded) end;
      long peak =
          intent.drivesNorth() ? pulse.peakForwardMilliAmps() : pulse.peakReverseMilliAmps();
      long expected = intent instanceof ActEvent.PulseIntent of ? of.peakMilliAmps() : 0;
      return expected == 0
          ? OptionalDouble.empty()
          : above((double) intent.fieldAmperesPerMetre() * peak / expected);
    }

    private static OptionalDouble above(double field) {
      return field > 0 ? OptionalDouble.of(field) : OptionalDouble.empty();
    }
  }
}
