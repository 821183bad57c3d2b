package lodestep.protocol;

/** Why a received line was dropped. Every fault costs exactly the line it stands in. */
public enum LineFault {
  /** More bytes than {@link HeadFrame#LINE_BYTES_MAX} without a line end. */
  TOO_LONG,
  /** A byte that is not printable ASCII. */
  NOT_PRINTABLE,
  /** Too short to carry a CRC, or no separator and four upper-case hex digits at its end. */
  NO_CRC,
  /** The CRC does not match. */
  BAD_CRC,
  /** The CRC matches, but the letter of type is not known: perhaps another protocol version. */
  UNKNOWN_TYPE,
  /** A field is missing, one too many, or not written as the grammar says. */
  BAD_FIELD,
  /** A field is a number outside its {@link WireField} range. */
  OUT_OF_RANGE
}
