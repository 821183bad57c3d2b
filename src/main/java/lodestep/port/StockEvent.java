package lodestep.port;

import java.util.List;

/**
 * The events of things with names: lots, finished pickups, what was handed over, what came back,
 * what else a plan says of a magnet, and what was written down wrongly. What {@link LedgerEvent}
 * says of fields and kinds holds here. Any thread, immutable.
 */
public sealed interface StockEvent extends LedgerEvent {

  /**
   * A lot came in.
   *
   * @param lot the supplier's, as plans name it
   * @param supplier who sent it; may be empty
   * @param alloy what the supplier says it is
   * @param quantity how many magnets
   * @param said what a person has to say of it; may be empty
   */
  record LotReceived(String lot, String supplier, String alloy, long quantity, String said)
      implements StockEvent {}

  /**
   * A magnet sits in the winding of a finished pickup. Stands after the event that names it; of a
   * magnet by itself there is none.
   *
   * @param turns of the winding
   * @param depthMicroMetres of copper around the magnet
   * @param shorted whether its ends are joined
   * @param trustedMilliVolts what the winding is trusted with between its ends
   */
  record MagnetWound(
      long magnet, long turns, long depthMicroMetres, boolean shorted, long trustedMilliVolts)
      implements StockEvent {}

  /**
   * A magnet's target was told by a hand gauge. Stands after the event that names it, which tells
   * the target as the nest reads it, its tolerance narrowed by what the relation is not known to.
   *
   * @param gauge what the person calls it
   * @param targetMicroTesla on that gauge, signed
   * @param toleranceMicroTesla half width on that gauge
   * @param ratioPartsPerMillion hand over nest, by which it was reckoned
   * @param uncertaintyPartsPerMillion standard uncertainty of the ratio
   */
  record TargetTold(
      long magnet,
      String gauge,
      long targetMicroTesla,
      long toleranceMicroTesla,
      long ratioPartsPerMillion,
      long uncertaintyPartsPerMillion)
      implements StockEvent {}

  /**
   * A magnet will never be used: broken, lost, or thrown away.
   *
   * @param why as a person said it
   */
  record MagnetScrapped(long magnet, String why) implements StockEvent {}

  /**
   * Something of a magnet was written down wrongly. What was written stays; from here on it is read
   * as corrected.
   *
   * @param field "name", "set", "lot" or "alloy", as in {@link LedgerEvent.MagnetNamed}
   * @param was what stood there until now
   * @param becomes what is right
   */
  record MagnetCorrected(long magnet, String field, String was, String becomes, String why)
      implements StockEvent {}

  /**
   * Two magnets were taken for one another: name and set of the one are the other's from here on.
   */
  record MagnetsExchanged(long magnet, long other, String why) implements StockEvent {}

  /**
   * A customer ordered something.
   *
   * @param name by which pickups are built for it
   * @param customer who; may be empty
   * @param wanted what is to be made, in words
   * @param due the day by which, like 2026-05-01; may be empty
   */
  record OrderTaken(String name, String customer, String wanted, String due)
      implements StockEvent {}

  /**
   * A person's note of what was made, to be found again when something like it is to be chosen.
   *
   * @param day of the making, like 2026-05-01
   * @param name of what was made
   * @param position where it sits, "neck" or "bridge"; may be empty
   * @param alloy as in plans
   * @param shape as in plans
   * @param size as in plans
   * @param levelsMicroTesla in the order of the strings, the lowest first, or of the one bar; below
   *     zero where south faces the strings
   * @param toleranceMicroTesla half width; 0 if none was told
   * @param inductanceMicroHenries of the coil; 0 if not known
   * @param set as which it was dialed; may be empty
   * @param pickup its number; 0 if none is on record
   * @param certificate its number; 0 if none
   * @param liked who liked it; may be empty
   * @param said what else there is to say; may be empty
   */
  record BuildNoted(
      String day,
      String name,
      String position,
      String alloy,
      String shape,
      String size,
      List<Long> levelsMicroTesla,
      long toleranceMicroTesla,
      long inductanceMicroHenries,
      String set,
      long pickup,
      long certificate,
      String liked,
      String said)
      implements StockEvent {
    public BuildNoted {
      levelsMicroTesla = List.copyOf(levelsMicroTesla);
    }
  }

  /**
   * How the pickup of the next note of this name and position is built, in the words in which it
   * was described; each empty where nothing was said.
   *
   * @param poles pole pieces of soft steel, {@code keeper} what they go through
   * @param polesUp which pole each magnet shows the strings
   * @param pitch from string to string, {@code distance} from face to string
   * @param scale length that vibrates, {@code fromBridge} where the poles stand
   * @param turns of the coil; {@code winding}, {@code cores}, {@code coresOf}, {@code count} go
   *     with it
   * @param capacitance of coil and cable, {@code load} what they work into
   * @param standOff from the pole face to the gauge, at which the note's levels are read
   */
  record BuildDescribed(
      String name,
      String position,
      String poles,
      String arranged,
      String keeper,
      String polesUp,
      String pitch,
      String distance,
      String scale,
      String fromBridge,
      String strings,
      String turns,
      String winding,
      String cores,
      String coresOf,
      String count,
      String resistance,
      String capacitance,
      String load,
      String standOff)
      implements StockEvent {}

  /** An order was handed over, or sent. */
  record OrderHandedOver(String name, String said) implements StockEvent {}

  /**
   * A pickup was assembled. The number of this event is the pickup's.
   *
   * @param name as on its baseplate
   * @param order whose it is; may be empty
   * @param poles how many pole tops it shows to the strings
   * @param magnets in the order of the strings, or the one bar of all; 0 where none is on record
   * @param winding what was wound about them, in words; may be empty
   * @param said what a person has to say of it; may be empty
   */
  record PickupBuilt(
      String name, String order, long poles, List<Long> magnets, String winding, String said)
      implements StockEvent {
    public PickupBuilt {
      magnets = List.copyOf(magnets);
    }
  }

  /**
   * The top of a pole of a pickup was read.
   *
   * @param round which reading of the whole pickup this belongs to, from 1
   * @param stage "as built", "as found" or "as returned"
   * @param pole counted from the lowest string, from 1
   * @param fieldMicroTesla signed
   * @param uncertaintyNanoTesla combined standard uncertainty, placement not counted
   * @param seat what holds the pickup at the gauge
   * @param spacerMicroMetres between pole top and gauge
   * @param zero number of the zero's event, {@code calibration} of the calibration's
   */
  record PoleTopRead(
      long pickup,
      long round,
      String stage,
      long pole,
      long fieldMicroTesla,
      long uncertaintyNanoTesla,
      long samples,
      long gaugeCentiDegC,
      String seat,
      long spacerMicroMetres,
      long zero,
      long calibration)
      implements StockEvent {}

  /**
   * What a return check came to.
   *
   * @param before round it is held against; 0 when there is none
   * @param now round that was judged
   * @param verdict "unchanged", "lost", "gained" or "cannot tell"
   * @param probabilityPartsPerMillion of the verdict
   * @param why in words
   */
  record ReturnJudged(
      long pickup,
      long before,
      long now,
      String verdict,
      long probabilityPartsPerMillion,
      String why)
      implements StockEvent {}

  /**
   * A certificate was made out. Its own number and hash are printed on it, so that it stands for
   * everything up to here.
   *
   * @param of the set, pickup or magnet it is for
   * @param magnets it tells of
   * @param pickup it tells of; 0 if none
   * @param contentSha256 of what it says, hexadecimal
   */
  record CertificateIssued(String of, List<Long> magnets, long pickup, String contentSha256)
      implements StockEvent {
    public CertificateIssued {
      magnets = List.copyOf(magnets);
    }
  }
}
