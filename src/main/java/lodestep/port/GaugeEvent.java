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
}
