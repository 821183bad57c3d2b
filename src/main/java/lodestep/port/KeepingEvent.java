package lodestep.port;

/**
 * The events of what a magnet keeps of its level: what is asked of it beside its target, what has
 * befallen it since, and what it reads then. What {@link LedgerEvent} says of fields and kinds
 * holds here. Any thread, immutable.
 */
public sealed interface KeepingEvent extends LedgerEvent {

  /**
   * What a magnet is asked to keep beside its target. Stands after the event that names it; of a
   * magnet that is asked neither there is none.
   *
   * @param readAfterSeconds how long after its last pulse the deciding reading is taken; 0 if at
   *     once
   * @param survivesAmperesPerMetre opposing field that must leave it as it is, without sign; 0 if
   *     none is named
   */
  record KeepingAsked(long magnet, long readAfterSeconds, long survivesAmperesPerMetre)
      implements KeepingEvent {}

  /**
   * A person noted what has befallen a magnet. Until it is read again its level is not known.
   *
   * @param what "heat", "drop" or "knock"
   * @param said in the person's own words; may be empty
   */
  record MagnetNoted(long magnet, String what, String said) implements KeepingEvent {}

  /**
   * A magnet with a verdict was read again, with no pulse, and compared with the reading of its
   * verdict.
   *
   * @param verdict number of the verdict's event
   * @param reading number of the {@link LedgerEvent.ReadingTaken} compared
   * @param fieldMicroTesla that reading, signed
   * @param uncertaintyNanoTesla its standard uncertainty, placement not counted
   * @param differenceNanoTesla by how much it reads stronger, at equal temperature; below zero
   *     where it reads weaker
   * @param differenceUncertaintyNanoTesla standard uncertainty of the difference, placement counted
   * @param expectedNanoTesla what time alone was expected to make of it, at most 0
   * @param sinceSeconds from that verdict's reading, by the wall clock
   * @param finding "kept", "moved" or "cannot tell"
   * @param why a sentence
   */
  record MagnetReread(
      long magnet,
      long verdict,
      long reading,
      long fieldMicroTesla,
      long uncertaintyNanoTesla,
      long differenceNanoTesla,
      long differenceUncertaintyNanoTesla,
      long expectedNanoTesla,
      long sinceSeconds,
      String finding,
      String why)
      implements KeepingEvent {}
}
