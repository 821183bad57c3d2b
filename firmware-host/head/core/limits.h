/* What both sides of the line hold to; the tables of PROTOCOL.md. */
#ifndef LODESTEP_LIMITS_H
#define LODESTEP_LIMITS_H

#include <stdint.h>

#define PROTOCOL_VERSION 3
#define LINE_BYTES_MAX 100
#define STOP_BYTE UINT8_C(0x95)
#define SERIAL_CHARACTERS_MAX 16
#define FIRMWARE_CHARACTERS_MAX 12

#define INTENT_MAX INT64_C(999999999999999999)
#define TOKEN_MAX INT64_C(2147483647)
#define SEQUENCE_MAX INT64_C(65535)
#define SESSION_MAX INT64_C(65535)
#define BANK_LIMIT_MV_MAX INT64_C(99999)
#define POSITION_UM_MAX INT64_C(999999)

/* With the relay's fall and the line the permit's contact is open 250 ms after the last heartbeat. */
#define HEARTBEAT_FRESH_MS 230
/* So long after a request of another session it is told. */
#define STRANGER_TOLD_MS 1000
/* A loop that comes later than this has hung. */
#define LOOP_LATE_MS 20
#define CONTACTS_STABLE_MS 50
#define TOKEN_LIVES_MS 500
#define WINDOW_MAX_MS 300
#define RING_LENGTH 64
/* The head's own cap on the bank, no setting. */
#define BANK_CAP_MV 51000
#define CURRENT_ZERO_MA 50
/* Ends of the coil sensor's scale: beyond them it is broken. */
#define COIL_OPEN_CDEGC (-5500)
#define COIL_SHORTED_CDEGC 15000

/* Bits of the status line's flags. */
enum head_flag {
  FLAG_PERMIT = 1 << 0,
  FLAG_WINDOW = 1 << 1,
  FLAG_CHAIN = 1 << 2,
  FLAG_LID_A = 1 << 3,
  FLAG_LID_B = 1 << 4,
  FLAG_STOP_LOOP = 1 << 5,
  FLAG_FILL_CONTACT = 1 << 6,
  FLAG_BLEED_CONTACT = 1 << 7,
  FLAG_REVERSE_CONTACT = 1 << 8,
  FLAG_FULL_CONTACT = 1 << 9,
  FLAG_JIG_HOME = 1 << 10,
  FLAG_JIG_FAR = 1 << 11,
  FLAG_LATCHED = 1 << 12,
  FLAG_HOMED = 1 << 13,
  FLAG_STRANGER = 1 << 14
};

/* Why a request is declined; the numbers of PROTOCOL.md. */
enum refusal {
  REFUSAL_NONE = 0,
  REFUSAL_NO_PERMIT = 1,
  REFUSAL_BAD_TOKEN = 2,
  REFUSAL_BANK_TOO_HIGH = 3,
  REFUSAL_NOT_SAFE = 4,
  REFUSAL_NOT_IN_RING = 5
};

#endif
