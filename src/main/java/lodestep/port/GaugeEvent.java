package lodestep.port;

import java.util.List;

/**
 * The events of the gauge's own checks. What {@link LedgerEvent} says of fields and kinds holds
 * here. Any thread, immutable.
 */
public sealed interface GaugeEvent extends LedgerEvent {

  /**
   * A reference magnet was read in a nest.
   *
   * @param reference its name in the rig's description
   * @param stage "as found", or "as left" after something was mended
   * @param fieldMicroTesla signed
   * @param uncertaintyNanoTesla combined standard uncertainty, placement not counted
   * @param zero number of the zero's event, {@code calibration} of the calibration's
   * @param certificateMicroTesla what its certificate says of this nest, signed
   * @param certificateUncertaintyNanoTesla standard uncertainty of that
   * @param certified the certificate's date, as the rig's description says it
   */
  record ReferenceRead(
      String reference,
      String nest,
      String stage,
      long fieldMicroTesla,
      long uncertaintyNanoTesla,
      long samples,
      long gaugeCentiDegC,
      long standOffMicroMetres,
      long zero,
      long calibration,
      long certificateMicroTesla,
      long certificateUncertaintyNanoTesla,
      String certified)
      implements GaugeEvent {}

  /**
   * What a check came to. The newest one of a nest stands: out of control it accepts nothing.
   *
   * @param reading number of the {@link ReferenceRead} that was judged
   * @param why sentences when it is out of control; else empty
   */
  record GaugeJudged(String reference, String nest, long reading, boolean inControl, String why)
      implements GaugeEvent {}

  /**
   * How a person's hand gauge relates to a nest for one shape was found; the newest one stands.
   *
   * @param gauge what the person calls it
   * @param shape and sizes as in {@link LedgerEvent.MagnetNamed}
   * @param ratioPartsPerMillion hand over nest
   * @param uncertaintyPartsPerMillion standard uncertainty of the ratio
   * @param freedomThousandths degrees of freedom behind that
   * @param scatterPartsPerMillion relative standard deviation of one hand reading about it
   * @param fromMicroTesla least hand reading it holds for, without sign
   * @param toMicroTesla greatest
   * @param magnets how many were paired
   * @param source where the pairs stand
   */
  record HandGaugeRelated(
      String gauge,
      String nest,
      long standOffMicroMetres,
      String shape,
      List<Long> sizesMicroMetres,
      long ratioPartsPerMillion,
      long uncertaintyPartsPerMillion,
      long freedomThousandths,
      long scatterPartsPerMillion,
      long fromMicroTesla,
      long toMicroTesla,
      long magnets,
      String source)
      implements GaugeEvent {
    public HandGaugeRelated {
      sizesMicroMetres = List.copyOf(sizesMicroMetres);
    }
  }

  /**
   * A study of the gauge with guided readings began; its number is this event's.
   *
   * @param method "placement": each magnet seated again and again; "crossed": by several persons
   * @param magnets their names, one a line
   * @param persons likewise; empty in a placement study
   * @param times how often each magnet is seated, by each person
   * @param toleranceMicroTesla half width of the band the gauge is to tell; 0 if none was named
   */
  record StudyStarted(
      String method,
      String nest,
      long standOffMicroMetres,
      String magnets,
      String persons,
      long times,
      long toleranceMicroTesla)
      implements GaugeEvent {}

  /**
   * A settled reading of a study, after the magnet was seated anew.
   *
   * @param study number of its {@link StudyStarted}
   * @param ordinal which of the study's readings, from 1
   * @param part name of the magnet
   * @param person who seated it; empty in a placement study
   * @param fieldMicroTesla signed
   * @param uncertaintyNanoTesla combined standard uncertainty, placement not counted
   * @param zero number of the zero's event, {@code calibration} of the calibration's
   */
  record StudyRead(
      long study,
      long ordinal,
      String part,
      String person,
      long fieldMicroTesla,
      long uncertaintyNanoTesla,
      long samples,
      long gaugeCentiDegC,
      long zero,
      long calibration)
      implements GaugeEvent {}

  /** What is read of a magnet at several points, by hand. */
  sealed interface PointEvent extends GaugeEvent {

    /** Number of the magnet. */
    long magnet();
  }

  /**
   * A magnet began to be read at several points; the series has this event's number.
   *
   * @param points along the edge as parts of the length, in words, one a line
   * @param faces "strings", the face that will look at the strings; or "both"
   * @param counts which figure counts, in the plan's words
   */
  record PointsStarted(long magnet, String points, String faces, String counts)
      implements PointEvent {}

  /**
   * A settled reading at one point of a magnet.
   *
   * @param series number of its {@link PointsStarted}
   * @param face "strings", the face that will look at the strings, or "other"
   * @param point in words, as asked
   * @param alongMicroMetres where the gauge's element is along the edge, from the magnet's middle
   * @param fieldMicroTesla signed: positive where the face read is north
   * @param uncertaintyNanoTesla combined standard uncertainty, placement not counted
   * @param zero number of the zero's event, {@code calibration} of the calibration's
   */
  record PointRead(
      long magnet,
      long series,
      String face,
      String point,
      long alongMicroMetres,
      long fieldMicroTesla,
      long uncertaintyNanoTesla,
      long samples,
      long gaugeCentiDegC,
      String nest,
      long standOffMicroMetres,
      long zero,
      long calibration)
      implements PointEvent {}

  /**
   * What a series of points came to.
   *
   * @param counts which figure counted, in the plan's words
   * @param fieldMicroTesla that figure, signed as the strings face reads
   * @param uncertaintyNanoTesla its standard uncertainty, one seating counted in
   * @param leastMicroTesla of all points, without sign; {@code mostMicroTesla} the greatest
   * @param targetMicroTesla what it was held against, signed; 0 when there is no level
   * @param toleranceMicroTesla half width; 0 when it was held against nothing
   * @param inside whether it lies inside the guard-banded tolerance
   * @param why in a sentence
   */
  record PointsJudged(
      long magnet,
      long series,
      String counts,
      long fieldMicroTesla,
      long uncertaintyNanoTesla,
      long leastMicroTesla,
      long mostMicroTesla,
      long targetMicroTesla,
      long toleranceMicroTesla,
      boolean inside,
      String why)
      implements PointEvent {}
}
